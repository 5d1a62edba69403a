package web

import (
	"pointsmith/calc/schema"
	"pointsmith/store"
)

// What the OpenAPI document says of each route.
var (
	aboutStatus = about{summary: "what is running here", out: schema.Of[status]().JSONSchema()}

	aboutOpenAPI = about{summary: "this document", out: object{"type": "object"}}

	aboutCalcList = about{summary: "the calculations there are, with their fields, units and limits",
		out: object{"type": "array", "items": object{"type": "object", "required": []string{"name", "summary", "in", "out", "example"}}}}

	// The table of calculations gives summary, input and output.
	aboutCalcCall = about{problems: []int{400, 404, 413, 422}}

	aboutGarageList = about{summary: "the documents that changed after a cursor, deleted ones included", members: true, problems: []int{422},
		query: []object{{"name": "after", "in": "query", "schema": object{"type": "integer", "minimum": 0},
			"description": "cursor of the answer before; left out: everything"}},
		out: object{"type": "object", "required": []string{"cursor", "documents"}, "additionalProperties": false,
			"properties": object{"cursor": object{"type": "integer"}, "documents": documents()}}}

	aboutGarageGet = about{summary: "a document", members: true, problems: []int{404, 422}, out: ref("document")}

	aboutGaragePut = about{summary: "store a document; when it was edited from another revision than the current one, the later change wins and the other is kept",
		members: true, problems: []int{400, 404, 413, 422},
		in: with(schema.Of[pushed](), object{"body": anyBody()}), out: answer()}

	aboutGarageDelete = about{summary: "delete a document, under the same rule", members: true, problems: []int{400, 404, 413, 422},
		in: schema.Of[removed]().JSONSchema(), out: answer()}

	aboutGarageKept = about{summary: "the versions of a document that lost against another", members: true, problems: []int{404, 422},
		out: object{"type": "object", "required": []string{"documents"}, "additionalProperties": false, "properties": object{"documents": documents()}}}
)

func documents() object { return object{"type": "array", "items": ref("document")} }

func answer() object {
	s := schema.Of[store.Answer]().JSONSchema()
	s["required"] = []string{"revision", "cursor", "kept"}
	s["properties"].(object)["cursor"] = object{"type": "integer", "minimum": 0}
	return s
}
