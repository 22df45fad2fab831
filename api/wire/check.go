package wire

import (
	"encoding/json"
	"errors"
	"fmt"
	"sort"
	"strconv"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"

	"seamwright/api/body"
	"seamwright/service/fault"
)

// check holds a value against a schema of the spec and returns every violation, in words for the person who wrote
// the request.
func check(schema *openapi3.Schema, value any) fault.List {
	e := explainer{opened: map[string]bool{}}
	e.explain("", schema.VisitJSON(value, openapi3.MultiErrors()))
	return e.found
}

// explainer turns the validator's errors into faults.
type explainer struct {
	found  fault.List
	opened map[string]bool // objects whose unknown properties are listed already
}

func (e *explainer) explain(at string, err error) {
	var wrong *openapi3.SchemaError
	switch err := err.(type) { //nolint:errorlint // the validator nests lists of errors; each level is taken apart by itself
	case nil:
	case openapi3.MultiError:
		for _, one := range err {
			e.explain(at, one)
		}
	case *openapi3.SchemaError:
		wrong = err
	default:
		if !errors.As(err, &wrong) {
			e.add(at, "Cannot be read: "+err.Error()+".")
		}
	}
	if wrong != nil {
		e.violation(at+pointer(wrong.JSONPointer()), wrong)
	}
}

func (e *explainer) add(at, detail string) {
	e.found = append(e.found, &fault.Fault{Kind: fault.Invalid, Pointer: at, Detail: detail})
}

func pointer(path []string) string {
	var b strings.Builder
	for _, part := range path {
		b.WriteByte('/')
		b.WriteString(body.Escape(part))
	}
	return b.String()
}

// violation explains one error of the validator at its place.
func (e *explainer) violation(at string, wrong *openapi3.SchemaError) {
	switch wrong.SchemaField {
	case "properties":
		e.unknown(at, wrong.Schema.Properties, wrong.Value)
	case "oneOf", "anyOf":
		e.alternatives(at, wrong)
		e.inside(at, wrong)
	case "not":
		e.add(at, sentence(wrong))
		e.inside(at, wrong)
	case "minimum", "maximum":
		if exclusive := wrong.Schema.ExclusiveMin.IsSet() && wrong.SchemaField == "minimum" ||
			wrong.Schema.ExclusiveMax.IsSet() && wrong.SchemaField == "maximum"; !exclusive {
			e.add(at, sentence(wrong))
		} // else the exclusive bound is violated as well and says it better
	default:
		e.add(at, sentence(wrong))
	}
}

// inside goes on into an object whose properties exclude each other: the validator stops there.
func (e *explainer) inside(at string, wrong *openapi3.SchemaError) {
	if len(wrong.Schema.Properties) == 0 {
		return
	}
	rest := *wrong.Schema
	rest.OneOf, rest.AnyOf, rest.Not = nil, nil, nil
	e.explain(at, rest.VisitJSON(wrong.Value, openapi3.MultiErrors()))
}

// unknown lists the properties of an object that its schema does not have, once.
func (e *explainer) unknown(at string, known openapi3.Schemas, value any) {
	object, _ := value.(map[string]any)
	if e.opened[at] {
		return
	}
	e.opened[at] = true
	names := make([]string, 0, len(known))
	for name := range known {
		names = append(names, name)
	}
	sort.Strings(names)
	for name := range object {
		if known[name] == nil {
			detail := fmt.Sprintf("Unknown property %q", fault.Cut(name, 100))
			if hint := DidYouMean(name, names); hint != "" {
				detail += "; " + hint
			} else {
				detail += "; known here: " + strings.Join(names, ", ") + "."
			}
			e.add(at+"/"+body.Escape(name), detail)
		}
	}
}

// alternatives explains a value that fits none of several schemas (or more than one): by the one that it was
// meant to fit, when that can be told, else by the words that the spec has for it.
func (e *explainer) alternatives(at string, wrong *openapi3.SchemaError) {
	branches := wrong.Schema.OneOf
	if wrong.SchemaField == "anyOf" {
		branches = wrong.Schema.AnyOf
	}
	object, isObject := wrong.Value.(map[string]any)
	var meant []*openapi3.Schema
	union := openapi3.Schemas{}
	for _, branch := range branches {
		if branch.Value.Type != nil && branch.Value.Type.Permits(typeOf(wrong.Value)) &&
			(!isObject || knowsAll(branch.Value, object)) {
			meant = append(meant, branch.Value)
		}
		for name, property := range branch.Value.Properties {
			union[name] = property
		}
	}
	switch {
	case len(meant) == 1:
		e.explain(at, meant[0].VisitJSON(wrong.Value, openapi3.MultiErrors()))
	case isObject && len(union) > 0 && !knowsAll(&openapi3.Schema{Properties: union}, object):
		e.unknown(at, union, wrong.Value)
	default:
		e.add(at, sentence(wrong))
	}
}

func knowsAll(schema *openapi3.Schema, object map[string]any) bool {
	for name := range object {
		if schema.Properties[name] == nil {
			return false
		}
	}
	return true
}

// typeOf names a value's type as the spec does.
func typeOf(value any) string {
	switch value.(type) {
	case nil:
		return "null"
	case bool:
		return openapi3.TypeBoolean
	case json.Number:
		return openapi3.TypeNumber
	case string:
		return openapi3.TypeString
	case []any:
		return openapi3.TypeArray
	}
	return openapi3.TypeObject
}

// words are the types of the spec as people call them.
var words = map[string]string{
	openapi3.TypeBoolean: "true or false", openapi3.TypeNumber: "a number", openapi3.TypeInteger: "a whole number",
	openapi3.TypeString: "text", openapi3.TypeArray: "a list", openapi3.TypeObject: "an object", "null": "null",
}

// got names a value that should have been something else.
func got(value any) string {
	if truth, ok := value.(bool); ok {
		return strconv.FormatBool(truth)
	}
	return words[typeOf(value)]
}

// expected is what a schema says a value should be, in the words of its x-expected, else by its type.
func expected(schema *openapi3.Schema) string {
	if text, ok := schema.Extensions["x-expected"].(string); ok {
		return text
	}
	var types []string
	for _, branches := range []openapi3.SchemaRefs{schema.OneOf, schema.AnyOf} {
		for _, branch := range branches {
			types = append(types, expected(branch.Value))
		}
	}
	if schema.Type != nil {
		for _, t := range schema.Type.Slice() {
			types = append(types, words[t])
		}
	}
	return strings.Join(types, ", or ")
}

// sentence says what is wrong with one value.
func sentence(wrong *openapi3.SchemaError) string {
	s, value := wrong.Schema, wrong.Value
	switch wrong.SchemaField {
	case "required":
		path := wrong.JSONPointer()
		return fmt.Sprintf("Required property %q is missing.", path[len(path)-1])
	case "nullable":
		return "Must be " + expected(s) + ", not null. Leave the property out instead."
	case "type":
		if _, isNumber := value.(json.Number); isNumber && wrong.Origin != nil {
			return "Must be a finite number; this one is too large to reckon with."
		}
		if number, isNumber := value.(float64); isNumber {
			return fmt.Sprintf("Must be %s, not %s.", expected(s), strconv.FormatFloat(number, 'g', 6, 64))
		}
		return fmt.Sprintf("Must be %s, not %s.", expected(s), got(value))
	case "enum":
		names := make([]string, 0, len(s.Enum))
		for _, v := range s.Enum {
			names = append(names, fmt.Sprint(v))
		}
		return NotOneOf(names, value)
	case "not":
		return "Give " + expected(s) + "."
	case "oneOf", "anyOf":
		if s.Type.Is("object") || typeOf(value) == openapi3.TypeObject {
			return "Give " + expected(s) + "."
		}
		return fmt.Sprintf("Must be %s, not %s.", expected(s), got(value))
	}
	return bound(wrong)
}

// NotOneOf is the sentence about a value that is none of those named; it asks about the nearest.
func NotOneOf(names []string, value any) string {
	text, isText := value.(string)
	if !isText {
		return "Must be one of " + strings.Join(names, ", ") + ", not " + got(value) + "."
	}
	detail := fmt.Sprintf("%q is not one of %s", fault.Cut(text, 60), strings.Join(names, ", "))
	if hint := DidYouMean(text, names); hint != "" {
		return detail + "; " + hint
	}
	return detail + "."
}

// bound says which bound of number, text or list is broken.
func bound(wrong *openapi3.SchemaError) string {
	s := wrong.Schema
	number := func(x *float64) string { return strconv.FormatFloat(*x, 'f', -1, 64) }
	switch wrong.SchemaField {
	case "minimum":
		return "Must be at least " + number(s.Min) + "."
	case "exclusiveMinimum":
		return "Must be more than " + number(s.Min) + "."
	case "maximum":
		return "Must be at most " + number(s.Max) + "."
	case "exclusiveMaximum":
		return "Must be less than " + number(s.Max) + "."
	case "minLength":
		if s.MinLength > 1 {
			return fmt.Sprintf("Must be at least %d characters long.", s.MinLength)
		}
		return "Must not be empty."
	case "maxLength":
		return fmt.Sprintf("Must be at most %d characters long.", *s.MaxLength)
	case "pattern":
		return "Must be " + expected(s) + "."
	case "format":
		if s.Format == "date" {
			return "Must be a day of the calendar as YYYY-MM-DD, such as 2026-11-01."
		}
	case "minItems":
		if s.MinItems == 1 {
			return "Must have at least 1 item."
		}
		return fmt.Sprintf("Must have at least %d items.", s.MinItems)
	case "maxItems":
		return fmt.Sprintf("Must have at most %d items.", *s.MaxItems)
	}
	return "Does not fit the published form: " + wrong.Reason + "."
}
