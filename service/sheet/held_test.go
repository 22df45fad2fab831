package sheet_test

import (
	"fmt"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/sheet"
)

// fieldsOf lists the fields of a thing by where they lie. Values with parts of their own (a property, a season) are
// gone into.
func fieldsOf(t *testing.T, at reflect.Value, name string, into map[any]string) {
	t.Helper()
	switch at.Kind() {
	case reflect.Pointer:
		fieldsOf(t, at.Elem(), name, into)
	case reflect.Struct:
		if at.Addr().Type().Implements(reflect.TypeFor[interface{ String() string }]()) { // money
			into[at.Addr().UnsafePointer()] = name
			return
		}
		for i := range at.NumField() {
			fieldsOf(t, at.Field(i), name+"."+at.Type().Field(i).Name, into)
		}
	case reflect.Array:
		for i := range at.Len() {
			fieldsOf(t, at.Index(i), fmt.Sprintf("%s[%d]", name, i), into)
		}
	default:
		into[at.Addr().UnsafePointer()] = name
	}
}

// pointed are the places that a column points to: a number that may be unknown has two.
func pointed(field any) (places []any) {
	if known, ok := field.(sheet.If); ok {
		return append(pointed(known.Value), pointed(known.There)...)
	}
	return []any{reflect.ValueOf(field).UnsafePointer()}
}

// A field of the catalogue's types that no column fills, or that two columns fill, would be lost, or wrong, without a
// word.
func TestEveryFieldOfTheCatalogueHasItsColumn(t *testing.T) {
	t.Parallel()
	for _, part := range sheet.Parts() {
		if part.New == nil {
			continue
		}
		thing := part.New()
		left, filled := map[any]string{}, map[any]string{}
		fieldsOf(t, reflect.ValueOf(thing), "", left)
		names := map[any]string{}
		for at, name := range left {
			names[at] = name
		}
		for _, c := range part.Columns {
			for _, h := range c.Held {
				if h.Field == nil {
					continue
				}
				for i, at := range pointed(h.Field(thing)) {
					require.Contains(t, names, at, "%s: the column %s points beside the type", part.Name, c.Name)
					require.True(t, filled[at] == "" || i > 0, "%s: %s is filled by %s and by %s", part.Name, names[at], filled[at],
						c.Name)
					filled[at] = c.Name
					delete(left, at)
				}
			}
		}
		for at, name := range left {
			if name == ".Version" { // counted by the database
				delete(left, at)
			}
		}
		require.Empty(t, left, "%s: fields without a column", part.Name)
	}
}

// What of another kind a material has not is nil, whatever its column.
func TestAFieldOfAnotherKindIsNil(t *testing.T) {
	t.Parallel()
	glue := &catalogue.Material{Glue: &catalogue.Glue{}}
	for _, c := range sheet.Materials.Columns {
		for _, h := range c.Held {
			if h.Table == "item" || h.Table == "item_pack" || h.Field == nil {
				continue
			}
			require.Equal(t, h.Table == "glue", h.Field(glue) != nil, "%s of %s", c.Name, h.Table)
		}
	}
}

// Answers have what the part puts first at the front, all else in the sheet's order, and each column that has a field
// once.
func TestAnswersHaveEveryColumnOnce(t *testing.T) {
	t.Parallel()
	for _, part := range sheet.Parts() {
		seen := map[string]int{}
		for _, s := range part.Answer() {
			if s.Column != nil {
				seen[s.Held.Path]++
			}
		}
		for _, c := range part.Columns {
			for _, h := range c.Held {
				want := 1
				if h.Field == nil {
					want = 0
				}
				require.Equal(t, want, seen[h.Path], "%s: %s", part.Name, h.Path)
			}
		}
	}
	var order []string
	for _, s := range sheet.LabourRoles.Answer() {
		order = append(order, s.Name)
	}
	require.Equal(t, []string{"code", "name", "rate", "currency"}, order)
	for i, s := range sheet.Fasteners.Answer()[:5] {
		require.Equal(t, []string{"code", "name", "kind", "units", "width"}[i], s.Name)
	}
}
