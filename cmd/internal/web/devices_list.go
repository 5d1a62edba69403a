package web

import (
	"net/http"
	"time"

	"pointsmith/store"
)

// A device is a paired phone as the list shows it.
type device struct {
	ID       string `json:"id"`
	Name     string `json:"name"`
	Owner    bool   `json:"owner" help:"may let others in and shut them out"`
	PairedAt string `json:"pairedAt" help:"RFC 3339; empty: before there was pairing"`
	SeenAt   string `json:"seenAt" help:"RFC 3339, to ten minutes; empty: never"`
}

// A deviceList is every paired device, and which of them asks.
type deviceList struct {
	Devices []device `json:"devices"`
	Broken  []string `json:"broken" help:"records of devices that are not as they were written, in words; they let nobody in"`
	This    string   `json:"this" help:"id of the device that asks; empty on the server's own machine"`
}

// listDevices answers with the devices the garage is open to.
func (s *Site) listDevices(w http.ResponseWriter, r *http.Request) {
	devices, err := s.store.Devices()
	if err != nil {
		s.refuseStore(w, err)
		return
	}
	broken, err := s.store.BrokenDevices()
	if err != nil {
		s.refuseStore(w, err)
		return
	}
	list := deviceList{Devices: []device{}, Broken: []string{}, This: memberOf(r).device.ID}
	for _, d := range devices {
		list.Devices = append(list.Devices, describeDevice(d))
	}
	for _, b := range broken {
		list.Broken = append(list.Broken, b.String())
	}
	reply(w, list)
}

func describeDevice(d store.Device) device {
	return device{d.ID, d.Name, d.IsOwner, timeOrNone(d.PairedAt), timeOrNone(d.SeenAt)}
}

func timeOrNone(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.RFC3339)
}
