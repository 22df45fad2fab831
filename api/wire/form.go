package wire

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

// Form is what a body must look like: the schema, and its gate.
type Form struct {
	schema *openapi3.Schema
	gate   *gate
}

// FormOf makes the form of a schema of the spec, by name, when it is first needed.
func FormOf(name string) func() (Form, error) {
	return sync.OnceValues(func() (Form, error) {
		s, err := schema(name)
		if err != nil {
			return Form{}, err
		}
		return FormFrom(s)()
	})
}

// FormFrom makes the form of a schema when it is first needed.
func FormFrom(s *openapi3.Schema) func() (Form, error) {
	return sync.OnceValues(func() (Form, error) {
		s := asChecked(s)
		g, err := newGate(s)
		return Form{s, g}, err
	})
}

// Check returns every violation of a value.
func (f Form) Check(value any) fault.List {
	if f.gate.fits(value) {
		return nil
	}
	return check(f.schema, value)
}

// Bind reads a body, holds it against the spec and lets read take it over. All that is wrong comes back at once:
// a reader's fault counts unless the spec refused the very same place.
func Bind[T any](raw []byte, of func() (Form, error), read func(*Object) T) (T, error) {
	return bind(raw, of, read, false)
}

// BindKept reads a body that was taken before, when texts could have characters that are refused today.
func BindKept[T any](raw []byte, of func() (Form, error), read func(*Object) T) (T, error) {
	return bind(raw, of, read, true)
}

func bind[T any](raw []byte, of func() (Form, error), read func(*Object) T, kept bool) (T, error) {
	var none T
	against, err := of()
	if err != nil {
		return none, err
	}
	value, err := body.Parse(raw)
	if err != nil {
		return none, err
	}
	found := against.Check(value)
	fields, _ := value.(map[string]any)
	root := &Object{reader: &reader{kept: kept}, index: -1, fields: fields}
	if root.Text("units") == "mm" {
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
