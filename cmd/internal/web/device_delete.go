package web

import (
	"net/http"
)

// deleteDevice shuts a device out. Owners may shut out any, everyone the one
// they hold.
func (s *Site) deleteDevice(w http.ResponseWriter, r *http.Request) {
	id, asks := pathValue(r, "id"), memberOf(r)
	isOwn := asks.device.ID == id
	if !asks.isOwner && !isOwn {
		s.refuseNotOwner(w, r)
		return
	}
	d, err := s.store.Revoke(id)
	if err != nil {
		s.refuseStore(w, err)
		return
	}
	if isOwn {
		clearToken(w, r)
	}
	s.log.Info("revoked", "device", d.ID, "name", d.Name, "by", asks.name())
	reply(w, paired{describeDevice(d)})
}
