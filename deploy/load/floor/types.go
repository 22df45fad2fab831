package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"reflect"
	"slices"

	"github.com/getkin/kin-openapi/openapi3"
)

// typeOf returns the Go type that a code generator makes of a schema: structs with tags, pointers for what may be
// missing or null, raw JSON for a choice of several schemas. It is made at run time, so that it follows the spec;
// encoding/json treats it as it does a type from a source file. The spec has no schema that contains itself.
func typeOf(s *openapi3.Schema) reflect.Type {
	t := bare(s)
	if s.Nullable {
		return reflect.PointerTo(t)
	}
	return t
}

func bare(s *openapi3.Schema) reflect.Type {
	switch {
	case len(s.AllOf) == 1:
		return typeOf(s.AllOf[0].Value)
	case s.Type.Is(openapi3.TypeObject) && len(s.Properties) > 0:
		return structOf(s)
	case s.Type.Is(openapi3.TypeArray):
		return reflect.SliceOf(typeOf(s.Items.Value))
	case s.Type.Is(openapi3.TypeString):
		return reflect.TypeFor[string]()
	case s.Type.Is(openapi3.TypeBoolean):
		return reflect.TypeFor[bool]()
	case s.Type.Is(openapi3.TypeInteger):
		return reflect.TypeFor[int64]()
	case s.Type.Is(openapi3.TypeNumber):
		return reflect.TypeFor[float64]()
	}
	return reflect.TypeFor[json.RawMessage]()
}

func structOf(s *openapi3.Schema) reflect.Type {
	var fields []reflect.StructField
	for _, name := range slices.Sorted(maps.Keys(s.Properties)) {
		t := typeOf(s.Properties[name].Value)
		tag := fmt.Sprintf(`json:"%s"`, name)
		if !slices.Contains(s.Required, name) {
			if !s.Properties[name].Value.Nullable { // else the service writes null: older kept answers lack it
				tag = fmt.Sprintf(`json:"%s,omitempty"`, name)
			}
			if t.Kind() != reflect.Pointer {
				t = reflect.PointerTo(t)
			}
		}
		fields = append(fields, reflect.StructField{Name: "F_" + name, Type: t, Tag: reflect.StructTag(tag)})
	}
	return reflect.StructOf(fields)
}
