package web

import (
	"cmp"
	"maps"
	"net/http"
	"strconv"
	"strings"

	"pointsmith/calc"
	"pointsmith/calc/schema"
	"pointsmith/cmd/internal/shape"
)

// An object is a piece of JSON that is built by hand.
type object = map[string]any

// describeAPI makes the OpenAPI 3.1 document from the routes and the table of
// calculations, so that neither can say what the other does not do.
func describeAPI(version string, routes []route) object {
	paths := object{}
	for _, row := range routes {
		for path, operation := range row.operations() {
			item, ok := paths[path].(object)
			if !ok {
				item = object{}
				paths[path] = item
			}
			item[strings.ToLower(row.method)] = operation
		}
	}
	return object{
		"openapi": "3.1.0",
		"info": object{"title": "Pointsmith", "version": version,
			"summary": "The garage's documents, and the calculations the phone does itself"},
		"servers": []object{{"url": "/"}},
		"paths":   paths,
		"components": object{
			"schemas": componentSchemas(),
			"securitySchemes": object{
				"cookie": object{"type": "apiKey", "in": "cookie", "name": secureCookie,
					"description": "set by POST /api/v1/pair; named " + plainCookie +
						" over plain HTTP; not needed on the server's own machine"},
				"token": object{"type": "http", "scheme": "bearer", "description": "the same token, for programs"},
			},
		},
	}
}

// operations gives the row's entry in the document; the calculations' row has
// one for each of them.
func (row route) operations() map[string]object {
	if row.path != calcPath {
		return map[string]object{row.path: row.about.operation(row.method, row.path)}
	}
	all := map[string]object{}
	for _, m := range calc.Describe() {
		a := row.about
		a.summary, a.in, a.out = m.Summary, m.In.JSONSchema(), m.Out.JSONSchema()
		path := strings.Replace(row.path, "{method}", m.Name, 1)
		operation := a.operation(row.method, path)
		media(operation["requestBody"].(object))["example"] = m.Example
		all[path] = operation
	}
	return all
}

const calcPath = "/api/v1/calc/{method}"

// about says what the document tells of a route.
type about struct {
	summary  string
	in, out  object // JSON Schema; in is nil when nothing is sent
	query    []object
	media    string // of the answer; "": application/json
	takes    string // media type of what is sent; "": application/json
	members  bool   // from elsewhere only paired devices are answered
	problems []int  // statuses it may refuse with, besides 403 and 500
}

func (a about) operation(method, path string) object {
	o := object{"summary": a.summary, "operationId": operationID(method, path), "responses": a.responses(method)}
	if parameters := append(pathParameters(path), a.query...); len(parameters) > 0 {
		o["parameters"] = parameters
	}
	if a.in != nil {
		takes := cmp.Or(a.takes, "application/json")
		o["requestBody"] = object{"required": true, "content": object{takes: object{"schema": a.in}}}
	}
	if a.members {
		o["security"] = []object{{"cookie": []string{}}, {"token": []string{}}, {}}
	}
	return o
}

func (a about) responses(method string) object {
	mediaType := a.media
	if mediaType == "" {
		mediaType = "application/json"
	}
	answers := object{"200": object{"description": "the answer", "content": object{mediaType: object{"schema": a.out}}}}
	problems := append([]int{403, 500}, a.problems...)
	if a.members {
		problems = append(problems, 401)
	}
	if a.in != nil {
		problems = append(problems, 408)
	}
	if a.in != nil || method != http.MethodGet {
		problems = append(problems, 503)
	}
	for _, status := range problems {
		answers[strconv.Itoa(status)] = object{"description": problemMeanings[status],
			"content": object{"application/problem+json": object{"schema": ref("problem")}}}
	}
	return answers
}

var problemMeanings = map[int]string{
	400: "not JSON, or it broke off", 401: "not paired, or the code is not good", 403: "a foreign Host or Origin",
	404: "there is nothing of that name", 408: "it came too slowly", 409: "no room for another, or it has changed meanwhile", 413: "too large",
	422: "refused: field, limit and what to do are named",
	429: "too many tries; wait as long as Retry-After says", 500: "a fault of the server",
	503: "the server has its hands full, or its garage file is gone; wait as long as Retry-After says",
	507: "the server's disk is full",
}

func media(body object) object { return body["content"].(object)["application/json"].(object) }

func ref(name string) object { return object{"$ref": "#/components/schemas/" + name} }

// pathParameters finds the {names} in a path.
func pathParameters(path string) []object {
	var found []object
	for _, part := range strings.Split(path, "/") {
		if strings.HasPrefix(part, "{") {
			name := strings.Trim(part, "{}")
			found = append(found, object{"name": name, "in": "path", "required": true, "schema": pathSchemas[name]})
		}
	}
	return found
}

var pathSchemas = map[string]object{
	"kind": {"type": "string", "enum": shape.Kinds},
	"id":   {"type": "string", "pattern": "^[a-z0-9]{16,32}$"},

	"revision": {"type": "string", "description": "of the kept copy"},
	"photo":    {"type": "string", "pattern": "^[0-9a-f]{32}$", "description": "half of the SHA-256 of the picture"},
}

// operationID makes get.garage.kind.id of GET /api/v1/garage/{kind}/{id}.
func operationID(method, path string) string {
	path = strings.Trim(strings.TrimPrefix(path, "/api/v1"), "/")
	return strings.ToLower(method) + "." + strings.NewReplacer("/", ".", "{", "", "}", "").Replace(path)
}

func componentSchemas() object {
	all := object{
		"problem":  schema.Of[calc.Problem]().JSONSchema(),
		"document": documentSchema(),
		"copy":     copySchema(),
	}
	for _, kind := range shape.Kinds {
		all[kind] = shape.Schema(kind).JSONSchema()
	}
	return all
}

func documentSchema() object {
	return object{"type": "object", "required": []string{"kind", "id", "revision", "changedAt", "deleted", "body"},
		"additionalProperties": false,
		"properties": object{
			"kind": pathSchemas["kind"], "id": pathSchemas["id"], "revision": object{"type": "string"},
			"changedAt": object{"type": "string", "format": "date-time"}, "deleted": object{"type": "boolean"},
			"body": anyBody(),
		}}
}

// anyBody is the body of any kind; a deleted document's is empty.
func anyBody() object {
	bodies := []object{{"type": "object", "maxProperties": 0}}
	for _, kind := range shape.Kinds {
		bodies = append(bodies, ref(kind))
	}
	return object{"anyOf": bodies}
}

// with adds properties to a schema made from a struct.
func with(o schema.Object, properties object) object {
	s := o.JSONSchema()
	maps.Copy(s["properties"].(object), properties)
	return s
}
