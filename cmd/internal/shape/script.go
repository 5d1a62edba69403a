package shape

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
)

const (
	// ScriptPath is where the app finds Script, from the app's folder.
	ScriptPath = "made/shapes.js"
	// TypesPath is where the type checker finds Types, from the top.
	TypesPath = "pwa/test/shapes.d.ts"

	madeBy = "// Made by go generate from cmd/internal/shape. Change it there.\n"
)

// Script is the module of the app that holds the documents' shapes and the
// limits of figures. An error is a tag of ours that names no calculation.
func Script() ([]byte, error) {
	shapes := map[string]*node{}
	for _, kind := range Kinds {
		shapes[kind] = describe(bodies[kind].of, "")
	}
	ofDocuments, err := figures()
	if err != nil {
		return nil, err
	}
	ofMethods, err := inputs()
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	out.WriteString(madeBy)
	for _, part := range []struct {
		about, name, typed string
		value              any
	}{
		{"What a body of each kind holds.", "shapes", "{[kind in Kind]: Shape}", shapes},
		{"The most characters of a text of a document.", "longest", "{[field: string]: number}", longest()},
		{"What the calculation takes of a figure typed in a document.", "figures", "{[field: string]: FigureLimit}",
			ofDocuments},
		{"What a calculation takes, by its name and the path of the input.", "inputs",
			"{[method: string]: {[path: string]: FigureLimit}}", ofMethods},
	} {
		text, err := json.Marshal(part.value)
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(&out, "\n/** %s @type {%s} */\nexport const %s = %s;\n", part.about, part.typed, part.name, text)
	}
	return out.Bytes(), nil
}

// Types is what the type checker knows of the documents, one interface a
// struct, and of what Script holds.
func Types() []byte {
	var out bytes.Buffer
	out.WriteString(madeBy)
	fmt.Fprintf(&out, "\ntype Kind = %s;\n", union(Kinds))
	for _, t := range structs() {
		fmt.Fprintf(&out, "\ninterface %s {\n", typeName(t))
		for i := range t.NumField() {
			f := t.Field(i)
			if help := f.Tag.Get("help"); help != "" {
				fmt.Fprintf(&out, "\t/** %s */\n", help)
			}
			mark := ""
			if describe(f.Type, f.Tag).Optional {
				mark = "?"
			}
			fmt.Fprintf(&out, "\t%s%s: %s;\n", jsonName(f.Tag), mark, typeOf(f.Type, f.Tag))
		}
		out.WriteString("}\n")
	}
	out.WriteString(`
interface Shape {
	kind: "text" | "boolean" | "list" | "map" | "object"; optional?: boolean; choices?: string[];
	/** characters of a text, entries of a list or map */
	most?: number;
	each?: Shape; fields?: { [name: string]: Shape };
}
interface FigureLimit { min?: number; max?: number; over?: number; under?: number }
`)
	return out.Bytes()
}

func typeOf(t reflect.Type, tag reflect.StructTag) string {
	switch t.Kind() {
	case reflect.Bool:
		return "boolean"
	case reflect.Slice:
		return typeOf(t.Elem(), "") + "[]"
	case reflect.Map:
		return "{ [key: string]: " + typeOf(t.Elem(), "") + " }"
	case reflect.Struct:
		return typeName(t)
	}
	if choices := tag.Get("enum"); choices != "" {
		return union(strings.Split(choices, "|"))
	}
	return "string"
}

func typeName(t reflect.Type) string { return strings.ToUpper(t.Name()[:1]) + t.Name()[1:] }

func union(choices []string) string { return `"` + strings.Join(choices, `" | "`) + `"` }
