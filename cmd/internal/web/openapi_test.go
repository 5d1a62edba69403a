package web

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"pointsmith/calc"
)

var everyMethod = []string{"GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE"}

type apiDocument struct {
	OpenAPI    string
	Paths      map[string]map[string]map[string]any
	Components struct{ Schemas map[string]any }
}

func readAPI(t *testing.T, s *Site) apiDocument {
	t.Helper()
	d := wantJSON[apiDocument](t, ask(s, "GET", "/api/v1/openapi.json", ""))
	if d.OpenAPI != "3.1.0" {
		t.Fatalf("version %q", d.OpenAPI)
	}
	return d
}

// Every path of the document, asked with every method: what is described is
// answered, what is not is refused.
func TestDocumentAndServerAgreeOnEveryMethod(t *testing.T) {
	s := newSite(t)
	for path, item := range readAPI(t, s).Paths {
		target := strings.NewReplacer("{kind}", "car", "{id}", carID).Replace(path)
		for _, method := range everyMethod {
			w := ask(s, method, target, "")
			_, described := item[strings.ToLower(method)]
			if described && w.Code == 405 || !described && w.Code != 405 {
				t.Errorf("%s %s: described %v, answered %d", method, path, described, w.Code)
			}
		}
	}
}

func TestEveryRouteIsDescribed(t *testing.T) {
	s := newSite(t)
	d := readAPI(t, s)
	operations := 0
	for _, item := range d.Paths {
		operations += len(item)
	}
	routes := s.routes()
	if want := len(routes) - 1 + len(calc.Describe()); operations != want {
		t.Errorf("%d operations described, there are %d", operations, want)
	}
	for _, row := range routes {
		if row.path != calcPath && d.Paths[row.path][strings.ToLower(row.method)] == nil {
			t.Errorf("%s %s is not described", row.method, row.path)
		}
	}
	for _, m := range calc.Describe() {
		operation := d.Paths["/api/v1/calc/"+m.Name]["post"]
		if operation["summary"] != m.Summary {
			t.Errorf("%s: %v", m.Name, operation)
		}
	}
}

func TestOperationsAreWhole(t *testing.T) {
	s := newSite(t)
	ids := map[string]bool{}
	for path, item := range readAPI(t, s).Paths {
		for method, operation := range item {
			id, _ := operation["operationId"].(string)
			if id == "" || ids[id] {
				t.Errorf("%s %s: operationId %q is missing or used twice", method, path, id)
			}
			ids[id] = true
			if operation["summary"] == "" {
				t.Errorf("%s %s has no summary", method, path)
			}
			responses := operation["responses"].(map[string]any)
			for status, response := range responses {
				if response.(map[string]any)["description"] == "" {
					t.Errorf("%s %s %s has no description", method, path, status)
				}
			}
			for _, name := range strings.FieldsFunc(path, func(r rune) bool { return r == '/' }) {
				if strings.HasPrefix(name, "{") && !strings.Contains(fmt.Sprint(operation["parameters"]),
					strings.Trim(name, "{}")) {
					t.Errorf("%s %s: %s is not a parameter", method, path, name)
				}
			}
		}
	}
}

func TestReferencesLeadSomewhere(t *testing.T) {
	s := newSite(t)
	d := readAPI(t, s)
	text := ask(s, "GET", "/api/v1/openapi.json", "").Body.String()
	for part := range strings.SplitSeq(text, `"$ref":"#/components/schemas/`) {
		name, _, _ := strings.Cut(part, `"`)
		if !strings.HasPrefix(part, "{") && d.Components.Schemas[name] == nil {
			t.Errorf("%q is referred to and not there", name)
		}
	}
}

// Answers of the server, held against the schemas of the document.
func TestAnswersFitTheDocument(t *testing.T) {
	s := newSite(t)
	d := readAPI(t, s)
	check := func(method, path, target, body string, status int) {
		t.Helper()
		w := ask(s, method, target, body)
		if w.Code != status {
			t.Fatalf("%s %s: %d %s", method, target, w.Code, w.Body)
		}
		responses := d.Paths[path][strings.ToLower(method)]["responses"].(map[string]any)
		answer, ok := responses[fmt.Sprint(status)].(map[string]any)
		if !ok {
			t.Fatalf("%s %s: %d is not described", method, path, status)
		}
		content := answer["content"].(map[string]any)[w.Header().Get("Content-Type")].(map[string]any)
		var value any
		if err := json.Unmarshal(w.Body.Bytes(), &value); err != nil {
			t.Fatal(err)
		}
		if wrong := misfit(d.Components.Schemas, content["schema"].(map[string]any), value, "answer"); wrong != "" {
			t.Errorf("%s %s: %s", method, path, wrong)
		}
	}
	const item = "/api/v1/garage/{kind}/{id}"
	code, _, err := s.store.NewCode(false, time.Now())
	if err != nil {
		t.Fatal(err)
	}
	check("GET", "/api/v1/status", "/api/v1/status", "", 200)
	check("GET", "/api/v1/calc", "/api/v1/calc", "", 200)
	check("PUT", item, carPath,
		putCar(`{"name":"Linnet","facts":{"idle":{"value":"850","unit":"rpm","source":"book","note":""}}}`), 200)
	check("PUT", item, carPath, putCar(`{"name":"Other"}`), 200)
	check("GET", item, carPath, "", 200)
	check("GET", "/api/v1/garage/{kind}/{id}/kept", carPath+"/kept", "", 200)
	kept, err := s.store.AllKept()
	if err != nil || len(kept) != 1 {
		t.Fatal(kept, err)
	}
	current, err := s.store.Get("car", carID)
	if err != nil {
		t.Fatal(err)
	}
	const one = "/api/v1/garage/{kind}/{id}/kept/{revision}"
	check("GET", "/api/v1/kept", "/api/v1/kept", "", 200)
	check("GET", one, carPath+"/kept/"+kept[0].Revision, "", 200)
	check("GET", one, carPath+"/kept/0123", "", 404)
	check("GET", "/api/v1/export", "/api/v1/export", "", 200)
	check("POST", "/api/v1/import", "/api/v1/import", `{"format":"pointsmith garage 1","documents":[]}`, 200)
	check("POST", one, carPath+"/kept/"+kept[0].Revision,
		fmt.Sprintf(`{"take":"both","current":%q,"newId":"copy000000000001"}`, current.Revision), 200)
	check("POST", one, carPath+"/kept/"+kept[0].Revision, fmt.Sprintf(`{"take":"kept","current":%q}`, current.Revision),
		409)
	check("POST", one, carPath+"/kept/"+kept[0].Revision, `{}`, 422)
	check("DELETE", item, carPath, `{"base":"","changedAt":"2026-06-01T12:00:00Z"}`, 200)
	check("GET", "/api/v1/garage", "/api/v1/garage", "", 200)
	check("POST", "/api/v1/pair/code", "/api/v1/pair/code", `{"owner":true}`, 200)
	check("POST", "/api/v1/pair", "/api/v1/pair", `{"code":"ABCD2345","name":"Phone"}`, 401)
	check("POST", "/api/v1/pair", "/api/v1/pair", `{"code":"`+code+`","name":"Phone"}`, 200)
	check("GET", "/api/v1/devices", "/api/v1/devices", "", 200)
	check("DELETE", "/api/v1/devices/{id}", "/api/v1/devices/"+carID, "", 404)
	check("PUT", item, carPath, `{"wheels":4}`, 422)
	check("PUT", item, carPath, `{`, 400)
	check("GET", item, "/api/v1/garage/visit/"+carID, "", 404)
	for _, m := range calc.Describe() {
		path := "/api/v1/calc/" + m.Name
		check("POST", path, path, string(m.Example), 200)
		check("POST", path, path, `{"no such field":1}`, 422)
	}
}

// misfit says in words how a value breaks a JSON Schema, as far as the
// document uses JSON Schema; "" when it fits.
func misfit(schemas map[string]any, s map[string]any, value any, at string) string {
	if name, ok := s["$ref"].(string); ok {
		return misfit(schemas, schemas[strings.TrimPrefix(name, "#/components/schemas/")].(map[string]any), value, at)
	}
	for _, key := range []string{"anyOf", "oneOf"} {
		if choices, ok := s[key].([]any); ok {
			wrong := ""
			for _, choice := range choices {
				if wrong = misfit(schemas, choice.(map[string]any), value, at); wrong == "" {
					return ""
				}
			}
			return wrong
		}
	}
	switch v := value.(type) {
	case map[string]any:
		return misfitObject(schemas, s, v, at)
	case []any:
		if s["type"] != "array" && s["type"] != nil {
			return fmt.Sprintf("%s is a list, want %v", at, s["type"])
		}
		if items, ok := s["items"].(map[string]any); ok {
			for i, item := range v {
				if wrong := misfit(schemas, items, item, fmt.Sprintf("%s[%d]", at, i)); wrong != "" {
					return wrong
				}
			}
		}
	default:
		return misfitPlain(s, value, at)
	}
	return ""
}

func misfitObject(schemas map[string]any, s, v map[string]any, at string) string {
	if s["type"] != "object" && s["type"] != nil {
		return fmt.Sprintf("%s is an object, want %v", at, s["type"])
	}
	if s["maxProperties"] == 0.0 && len(v) > 0 {
		return at + " is not empty"
	}
	required, _ := s["required"].([]any)
	for _, name := range required {
		if _, ok := v[name.(string)]; !ok {
			return fmt.Sprintf("%s lacks %s", at, name)
		}
	}
	properties, _ := s["properties"].(map[string]any)
	for name, member := range v {
		if p, ok := properties[name].(map[string]any); ok {
			if wrong := misfit(schemas, p, member, at+"."+name); wrong != "" {
				return wrong
			}
		} else if s["additionalProperties"] == false {
			return fmt.Sprintf("%s.%s is not described", at, name)
		}
	}
	return ""
}

func misfitPlain(s map[string]any, value any, at string) string {
	kind := map[bool]string{true: "boolean"}[value == true || value == false]
	switch v := value.(type) {
	case string:
		kind = "string"
	case float64:
		kind = "number"
		if s["type"] == "integer" && v == float64(int64(v)) {
			kind = "integer"
		}
	}
	if want := s["type"]; want != nil && want != kind && value != nil {
		return fmt.Sprintf("%s is %v, want %v", at, value, want)
	}
	if enum, ok := s["enum"].([]any); ok {
		for _, one := range enum {
			if one == value {
				return ""
			}
		}
		return fmt.Sprintf("%s is %v, want one of %v", at, value, enum)
	}
	return ""
}
