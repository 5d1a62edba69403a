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
		out: object{"type": "array",
			"items": object{"type": "object", "required": []string{"name", "summary", "in", "out", "example"}}}}

	// The table of calculations gives summary, input and output.
	aboutCalcCall = about{problems: []int{400, 404, 413, 422}}

	aboutPair = about{summary: "pair this browser with the garage: a one-time code for a token, which is set as a cookie",
		problems: []int{400, 401, 409, 413, 422, 429},
		in:       schema.Of[pairing]().JSONSchema(), out: whole(schema.Of[paired]())}

	aboutPairCode = about{summary: "open a one-time code for another device; for owners", members: true,
		problems: []int{400, 413, 422},
		in:       schema.Of[codeWish]().JSONSchema(), out: whole(schema.Of[codeMade]())}

	aboutDevices = about{summary: "the devices the garage is open to", members: true,
		out: whole(schema.Of[deviceList]())}

	aboutDeviceDelete = about{summary: "shut a device out: any for owners, else the one that asks", members: true,
		problems: []int{404}, out: whole(schema.Of[paired]())}

	aboutGarageGet = about{summary: "a document", members: true, problems: []int{404, 422}, out: ref("document")}

	aboutGaragePut = about{summary: "store a document; when it was edited from another revision than the current one the two are united, and what cannot be united is kept as a copy",
		members: true, problems: []int{400, 404, 409, 413, 422, 507},
		in: with(schema.Of[pushed](), object{"body": anyBody()}), out: answer()}

	aboutGarageDelete = about{summary: "delete a document, under the same rule", members: true,
		problems: []int{400, 404, 409, 413, 422, 507},
		in:       schema.Of[removed]().JSONSchema(), out: answer()}
)

// whole is the schema of an answer, in which every field is there.
func whole(o schema.Object) object {
	s := o.JSONSchema()
	var names []string
	for _, f := range o.Fields {
		names = append(names, f.Name)
	}
	s["required"] = names
	return s
}

func documents() object { return object{"type": "array", "items": ref("document")} }

func answer() object {
	s := schema.Of[store.Answer]().JSONSchema()
	s["required"] = []string{"revision", "cursor", "kept"}
	s["properties"].(object)["cursor"] = object{"type": "integer", "minimum": 0}
	s["properties"].(object)["document"] = ref("document")
	return s
}
