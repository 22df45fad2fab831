package wire

import (
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"regexp"
	"unicode/utf8"

	"github.com/getkin/kin-openapi/openapi3"
)

// saidBetter are formats that whoever reads the body holds to, with a sentence of its own about what is wrong.
var saidBetter = map[string]bool{"email": true, "uri": true}

// gate is a schema of the spec made ready to say yes or no quickly. It is made from the spec and knows a part of
// its vocabulary, that part exactly: a test holds it against the validator. Only a no needs the validator, which
// then explains it. Measured: about a tenth of the validator's time for a valid request.
type gate struct {
	types            map[string]bool // nil: any
	nullable         bool
	least, most      float64
	overLeast        bool // the bound itself is out
	underMost        bool
	shortest         int
	longest          int
	pattern          *regexp.Regexp
	format           openapi3.StringFormatValidator
	enum             map[string]bool
	items            *gate
	fewest, greatest int
	properties       map[string]*gate
	required         []string
	closed           bool
	others           *gate // of properties that are not named; nil: any
	mostProperties   int
	oneOf, anyOf     []*gate
	not              *gate
}

// newGate makes a gate of a schema. It fails on a keyword that gates do not know.
func newGate(s *openapi3.Schema) (*gate, error) {
	if err := onlyKnown(s); err != nil {
		return nil, err
	}
	g := &gate{nullable: s.Nullable, least: math.Inf(-1), most: math.Inf(1), shortest: int(s.MinLength),
		longest: math.MaxInt,
		fewest:  int(s.MinItems), greatest: math.MaxInt, required: s.Required,
		mostProperties: math.MaxInt}
	if s.Type != nil {
		g.types = map[string]bool{}
		for _, t := range s.Type.Slice() {
			g.types[t] = true
		}
	}
	if s.Min != nil {
		g.least, g.overLeast = *s.Min, s.ExclusiveMin.IsSet() && *s.ExclusiveMin.Bool
	}
	if s.Max != nil {
		g.most, g.underMost = *s.Max, s.ExclusiveMax.IsSet() && *s.ExclusiveMax.Bool
	}
	if s.MaxLength != nil {
		g.longest = int(*s.MaxLength)
	}
	if s.MaxItems != nil {
		g.greatest = int(*s.MaxItems)
	}
	if s.MaxProps != nil {
		g.mostProperties = int(*s.MaxProps)
	}
	if has := s.AdditionalProperties.Has; has != nil {
		g.closed = !*has
	}
	if err := g.texts(s); err != nil {
		return nil, err
	}
	return g, g.inside(s)
}

// onlyKnown fails on a schema with more than gates know: what is left of it must be nothing.
func onlyKnown(s *openapi3.Schema) error {
	rest := *s
	rest.Extensions, rest.Origin, rest.Title, rest.Description, rest.Default, rest.Example = nil, nil, "", "", nil, nil
	rest.ReadOnly = false // which is for callers to know: what GET gave may be sent back as it is
	rest.Type, rest.Nullable, rest.Format, rest.Enum, rest.Pattern = nil, false, "", nil, ""
	rest.Min, rest.Max, rest.MinLength, rest.MaxLength, rest.MinItems, rest.MaxItems = nil, nil, 0, nil, 0, nil
	rest.Items, rest.Properties, rest.Required, rest.OneOf, rest.AnyOf, rest.Not = nil, nil, nil, nil, nil, nil
	for _, bound := range []*openapi3.ExclusiveBound{&rest.ExclusiveMin, &rest.ExclusiveMax} {
		if bound.Value == nil {
			*bound = openapi3.ExclusiveBound{}
		}
	}
	rest.AdditionalProperties, rest.MaxProps = openapi3.AdditionalProperties{}, nil
	if !reflect.DeepEqual(rest, openapi3.Schema{}) {
		return fmt.Errorf("a gate does not know all of the schema %q", s.Description)
	}
	return nil
}

// texts takes over what is said about texts.
func (g *gate) texts(s *openapi3.Schema) (err error) {
	if s.Pattern != "" {
		if g.pattern, err = regexp.Compile(s.Pattern); err != nil {
			return err
		}
	}
	if s.Format != "" {
		if g.format = openapi3.SchemaStringFormats[s.Format]; g.format == nil && !saidBetter[s.Format] {
			return fmt.Errorf("a gate does not know the format %s", s.Format)
		}
	}
	if len(s.Enum) > 0 {
		g.enum = map[string]bool{}
	}
	for _, v := range s.Enum {
		text, isText := v.(string)
		if v == nil && s.Nullable {
			continue // null is let in before its value is looked at
		}
		if !isText {
			return fmt.Errorf("a gate does not know the enum value %v", v)
		}
		g.enum[text] = true
	}
	return nil
}

// inside makes the gates of the schemas in a schema.
func (g *gate) inside(s *openapi3.Schema) (err error) {
	if s.Items != nil {
		if g.items, err = newGate(s.Items.Value); err != nil {
			return err
		}
	}
	if s.AdditionalProperties.Schema != nil {
		if g.others, err = newGate(s.AdditionalProperties.Schema.Value); err != nil {
			return err
		}
	}
	if s.Not != nil {
		if g.not, err = newGate(s.Not.Value); err != nil {
			return err
		}
	}
	if g.oneOf, err = newGates(s.OneOf); err != nil {
		return err
	}
	if g.anyOf, err = newGates(s.AnyOf); err != nil {
		return err
	}
	g.properties = make(map[string]*gate, len(s.Properties))
	for name, property := range s.Properties {
		if g.properties[name], err = newGate(property.Value); err != nil {
			return err
		}
	}
	return nil
}

func newGates(refs openapi3.SchemaRefs) (gates []*gate, err error) {
	for _, ref := range refs {
		g, err := newGate(ref.Value)
		if err != nil {
			return nil, err
		}
		gates = append(gates, g)
	}
	return gates, nil
}

// fits says whether a value fits the schema.
func (g *gate) fits(value any) bool {
	if value == nil && g.nullable {
		return true
	}
	if !g.combined(value) {
		return false
	}
	switch v := value.(type) {
	case nil:
		return g.oneOf != nil || g.anyOf != nil // one of those lets it in
	case string:
		return g.allows(openapi3.TypeString) && g.text(v)
	case json.Number:
		return g.enum == nil && g.number(v)
	case bool:
		return g.enum == nil && g.allows(openapi3.TypeBoolean)
	case []any:
		return g.enum == nil && g.allows(openapi3.TypeArray) && g.list(v)
	case map[string]any:
		return g.enum == nil && g.allows(openapi3.TypeObject) && g.object(v)
	}
	return false
}

// combined holds a value against the schemas that a schema combines.
func (g *gate) combined(value any) bool {
	if g.not != nil && g.not.fits(value) {
		return false
	}
	if g.oneOf != nil && count(g.oneOf, value) != 1 {
		return false
	}
	if g.anyOf == nil {
		return true
	}
	for _, branch := range g.anyOf {
		if branch.fits(value) {
			return true
		}
	}
	return false
}

func count(gates []*gate, value any) (n int) {
	for _, g := range gates {
		if g.fits(value) {
			n++
		}
	}
	return n
}

func (g *gate) allows(kind string) bool { return g.types == nil || g.types[kind] }

func (g *gate) text(v string) bool {
	if g.shortest > 0 || g.longest < math.MaxInt {
		if n := utf8.RuneCountInString(v); n < g.shortest || n > g.longest {
			return false
		}
	}
	return (g.enum == nil || g.enum[v]) && (g.pattern == nil || g.pattern.MatchString(v)) &&
		(g.format == nil || g.format.Validate(v) == nil)
}

func (g *gate) number(v json.Number) bool {
	x, err := v.Float64()
	if err != nil || !g.allows(openapi3.TypeNumber) && !(g.types[openapi3.TypeInteger] && x == math.Trunc(x)) {
		return false
	}
	return x >= g.least && x <= g.most && !(g.overLeast && x == g.least) && !(g.underMost && x == g.most)
}

func (g *gate) list(v []any) bool {
	if len(v) < g.fewest || len(v) > g.greatest {
		return false
	}
	for i := range v {
		if g.items != nil && !g.items.fits(v[i]) {
			return false
		}
	}
	return true
}

func (g *gate) object(v map[string]any) bool {
	if len(v) > g.mostProperties {
		return false
	}
	for _, name := range g.required {
		if _, there := v[name]; !there {
			return false
		}
	}
	for name, inside := range v {
		property := g.properties[name]
		if property == nil {
			property = g.others
		}
		if property == nil && g.closed || property != nil && !property.fits(inside) {
			return false
		}
	}
	return true
}
