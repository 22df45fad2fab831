package api

import (
	"errors"
	"fmt"
	"sync"

	"github.com/getkin/kin-openapi/openapi3"

	"seamwright/api/body"
	"seamwright/openapi"
	"seamwright/service/fault"
	"seamwright/service/measure"
)

// schema returns a schema of the spec by name.
func schema(name string) (*openapi3.Schema, error) {
	document, err := openapi.Document()
	if err != nil {
		return nil, err
	}
	ref := document.Components.Schemas[name]
	if ref == nil {
		return nil, fmt.Errorf("the spec has no schema %s", name)
	}
	return ref.Value, nil
}

// form is what a body must look like: the schema, and its gate.
type form struct {
	schema *openapi3.Schema
	gate   *gate
}

func formOf(name string) func() (form, error) {
	return sync.OnceValues(func() (form, error) {
		s, err := schema(name)
		if err != nil {
			return form{}, err
		}
		return formFrom(s)()
	})
}

// formFrom makes the form of a schema when it is first needed.
func formFrom(s *openapi3.Schema) func() (form, error) {
	return sync.OnceValues(func() (form, error) {
		g, err := newGate(s)
		return form{s, g}, err
	})
}

// check returns every violation of a value.
func (f form) check(value any) fault.List {
	if f.gate.fits(value) {
		return nil
	}
	return check(f.schema, value)
}

// bind reads a body, holds it against the spec and lets read take it over. All that is wrong comes back at once:
// a reader's fault counts unless the spec refused the very same place.
func bind[T any](raw []byte, of func() (form, error), read func(*object) T) (T, error) {
	var none T
	against, err := of()
	if err != nil {
		return none, err
	}
	value, err := body.Parse(raw)
	if err != nil {
		return none, err
	}
	found := against.check(value)
	fields, _ := value.(map[string]any)
	root := &object{reader: &reader{}, index: -1, fields: fields}
	if root.text("units") == "mm" {
		root.reader.units = measure.Millimetres
	}
	bound := read(root)
	found = merge(found, root.reader.faults)
	if len(found) == 0 && root.reader.misfit > 0 {
		return none, errors.New("the spec accepts a body that the binding does not understand")
	}
	return bound, found.Err()
}

func merge(found, more fault.List) fault.List {
	if len(more) == 0 {
		return found
	}
	at := make(map[string]bool, len(found))
	for _, f := range found {
		at[f.Pointer] = true
	}
	for _, f := range more {
		if !at[f.Pointer] {
			found = append(found, f)
		}
	}
	return found
}
