package web

import (
	"net/http"
	"strings"

	"github.com/gorilla/mux"
)

// A route is one row of the API: what is asked, who answers, and what the
// OpenAPI document says of it.
type route struct {
	method, path string
	handle       http.HandlerFunc
	about        about
}

// routes is the whole API. Everything outside /api/ is the app.
func (s *Site) routes() []route {
	return []route{
		{"GET", "/api/v1/status", s.getStatus, aboutStatus},
		{"GET", "/api/v1/openapi.json", s.getOpenAPI, aboutOpenAPI},
		{"GET", "/api/v1/calc", s.listCalc, aboutCalcList},
		{"POST", "/api/v1/calc/{method}", s.callCalc, aboutCalcCall},
		{"POST", "/api/v1/pair", s.postPair, aboutPair},
		{"POST", "/api/v1/pair/code", s.forOwners(s.postPairCode), aboutPairCode},
		{"GET", "/api/v1/devices", s.forMembers(s.listDevices), aboutDevices},
		{"DELETE", "/api/v1/devices/{id}", s.forMembers(s.deleteDevice), aboutDeviceDelete},
		{"GET", "/api/v1/garage", s.forMembers(s.listGarage), aboutGarageList},
		{"GET", "/api/v1/garage/{kind}/{id}", s.forMembers(s.getGarage), aboutGarageGet},
		{"PUT", "/api/v1/garage/{kind}/{id}", s.forMembers(s.putGarage), aboutGaragePut},
		{"DELETE", "/api/v1/garage/{kind}/{id}", s.forMembers(s.deleteGarage), aboutGarageDelete},
		{"GET", "/api/v1/garage/{kind}/{id}/kept", s.forMembers(s.listKept), aboutGarageKept},
		{"GET", "/api/v1/garage/{kind}/{id}/kept/{revision}", s.forMembers(s.getKept), aboutKeptGet},
		{"POST", "/api/v1/garage/{kind}/{id}/kept/{revision}", s.forMembers(s.chooseKept), aboutKeptChoose},
		{"GET", "/api/v1/kept", s.forMembers(s.listAllKept), aboutKeptAll},
		{"GET", "/api/v1/photos", s.forMembers(s.listPhotos), aboutPhotoList},
		{"GET", "/api/v1/photos/{photo}", s.forMembers(s.getPhoto), aboutPhotoGet},
		{"PUT", "/api/v1/photos/{photo}", s.forMembers(s.putPhoto), aboutPhotoPut},
		{"GET", "/api/v1/backup", s.forThisMachine(s.getBackup), aboutBackup},
		{"GET", "/api/v1/export", s.forThisMachine(s.getExport), aboutExport},
		{"POST", "/api/v1/import", s.forThisMachine(s.postImport), aboutImport},
	}
}

func newRouter(routes []route, app http.HandlerFunc) http.Handler {
	r := mux.NewRouter()
	allowed := map[string][]string{}
	for _, row := range routes {
		r.HandleFunc(row.path, row.handle).Methods(row.method)
		allowed[row.path] = append(allowed[row.path], row.method)
	}
	for path, methods := range allowed {
		r.HandleFunc(path, refuseMethod(strings.Join(methods, ", ")))
	}
	r.MatcherFunc(outsideAPI).HandlerFunc(app)
	r.NotFoundHandler = http.HandlerFunc(refuseAddress)
	return r
}

func outsideAPI(r *http.Request, _ *mux.RouteMatch) bool {
	return r.URL.Path != "/api" && !strings.HasPrefix(r.URL.Path, "/api/")
}

// pathValue gives a {name} of the route's path.
func pathValue(r *http.Request, name string) string { return mux.Vars(r)[name] }
