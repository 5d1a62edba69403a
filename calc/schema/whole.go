package schema

import "reflect"

// Whole gives an answer in which no list is missing: a nil list becomes an
// empty one, so that whoever reads the JSON finds [] and never null. The
// answer given is left alone, for it may share its lists with the room that
// made it. What writes its own JSON, and maps' members, stay as they are.
func Whole[T any](answer T) T {
	whole, _ := wholeOf(reflect.ValueOf(&answer).Elem())
	return whole.Interface().(T)
}

// wholeOf gives v, or a copy in which the lists are whole, and whether it is
// a copy.
func wholeOf(v reflect.Value) (reflect.Value, bool) {
	switch v.Kind() {
	case reflect.Slice:
		return wholeList(v)
	case reflect.Struct:
		return wholeFields(v)
	case reflect.Pointer:
		if v.IsNil() {
			return v, false
		}
		inner, changed := wholeOf(v.Elem())
		if !changed {
			return v, false
		}
		out := reflect.New(v.Type().Elem())
		out.Elem().Set(inner)
		return out, true
	}
	return v, false
}

func wholeList(v reflect.Value) (reflect.Value, bool) {
	if v.Type().Elem().Kind() == reflect.Uint8 { // bytes are a text in JSON, not a list
		return v, false
	}
	if v.IsNil() {
		return reflect.MakeSlice(v.Type(), 0, 0), true
	}
	out, copied := v, false
	for i := range v.Len() {
		inner, changed := wholeOf(v.Index(i))
		if !changed {
			continue
		}
		if !copied {
			out, copied = reflect.MakeSlice(v.Type(), v.Len(), v.Len()), true
			reflect.Copy(out, v)
		}
		out.Index(i).Set(inner)
	}
	return out, copied
}

func wholeFields(v reflect.Value) (reflect.Value, bool) {
	out, copied := v, false
	for i := range v.NumField() {
		if !v.Type().Field(i).IsExported() {
			continue
		}
		inner, changed := wholeOf(v.Field(i))
		if !changed {
			continue
		}
		if !copied {
			out, copied = reflect.New(v.Type()).Elem(), true
			out.Set(v)
		}
		out.Field(i).Set(inner)
	}
	return out, copied
}
