package web

import (
	"pointsmith/calc/schema"
	"pointsmith/store"
)

// What the OpenAPI document says of the garage's feed, of kept copies, and of
// taking the garage along.
var (
	aboutGarageList = about{summary: "a page of the documents that changed after a cursor, deleted ones included",
		members: true, problems: []int{422},
		query: []object{
			queryNumber("after", "cursor of the page before; left out: from the start"),
			queryNumber("limit", "how many documents at most; left out, or more than 1000: 1000"),
			{"name": "garage", "in": "query", "schema": object{"type": "string"},
				"description": "garage of the page before; with it the answer can say that everything has to be compared"},
		},
		out: feedSchema()}

	aboutKeptAll = about{summary: "every copy that waits for a choice, the oldest first, without bodies", members: true,
		out: copiesSchema()}

	aboutGarageKept = about{summary: "the copies of a document that wait for a choice, the oldest first", members: true,
		problems: []int{404, 422}, out: copiesSchema()}

	aboutKeptGet = about{summary: "a copy that waits for a choice", members: true, problems: []int{404, 422},
		out: ref("copy")}

	aboutKeptChoose = about{summary: "choose about a copy; the same choice again gives the same answer", members: true,
		problems: []int{400, 404, 409, 413, 422},
		in:       schema.Of[choice]().JSONSchema(),
		out: object{"type": "object", "required": []string{"take", "cursor", "document"}, "additionalProperties": false,
			"properties": object{
				"take":     object{"type": "string", "enum": []string{"kept", "current", "both"}},
				"cursor":   object{"type": "integer", "minimum": 0},
				"document": ref("document"), "new": ref("document")}}}

	aboutBackup = about{summary: "the garage file as it stands; on the server's own machine only", members: true,
		media: "application/octet-stream", out: object{}}

	aboutExport = about{summary: "the whole garage as one file of JSON; on the server's own machine only",
		members: true,
		out: with(schema.Of[garageFile](),
			object{"documents": object{"type": "array", "items": object{"type": "object"}},
				"kept": object{"type": "array", "items": object{"type": "object"}}})}

	aboutImport = about{summary: "take in an exported garage, all of it or nothing; on the server's own machine only",
		members: true, problems: []int{400, 409, 413, 422, 507},
		in: with(schema.Of[garageFile](),
			object{"documents": object{"type": "array", "maxItems": maxDocuments, "items": object{"type": "object"}}}),
		out: importedSchema()}
)

func queryNumber(name, description string) object {
	return object{"name": name, "in": "query", "schema": object{"type": "integer", "minimum": 0},
		"description": description}
}

func feedSchema() object {
	number := object{"type": "integer", "minimum": 0}
	return object{"type": "object", "required": []string{"cursor", "more", "garage", "kept", "documents"},
		"additionalProperties": false, "properties": object{
			"cursor": number, "more": object{"type": "boolean", "description": "there is another page"},
			"garage": object{"type": "string", "description": "to send with the cursor"},
			"compare": object{"type": "string", "enum": []string{store.CompareForgotten, store.CompareOther},
				"description": "this is the first page of everything: go through all pages. forgotten: what is not listed is deleted. other: this is another file; push what differs"},
			"kept":      object{"type": "integer", "minimum": 0, "description": "copies that wait for a choice"},
			"documents": documents()}}
}

func copiesSchema() object {
	return object{"type": "object", "required": []string{"copies"}, "additionalProperties": false,
		"properties": object{"copies": object{"type": "array", "items": ref("copy")}}}
}

func copySchema() object {
	s := documentSchema()
	properties := s["properties"].(object)
	properties["name"] = object{"type": "string", "description": "NAME (from DEVICE, DATE)"}
	properties["device"] = object{"type": "string"}
	properties["keptAt"] = object{"type": "string", "format": "date-time"}
	properties["why"] = object{"type": "string", "enum": []string{store.WhyBoth, store.WhyDeleted}}
	s["required"] = append(s["required"].([]string), "name", "device", "keptAt", "why")
	return s
}

func importedSchema() object {
	s := schema.Of[store.Imported]().JSONSchema()
	for name := range s["properties"].(object) {
		s["properties"].(object)[name] = object{"type": "integer", "minimum": 0}
	}
	return s
}
