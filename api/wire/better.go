package wire

import "github.com/getkin/kin-openapi/openapi3"

// saidBetterBy is the extension of a schema that lists keywords of it to which whoever reads the body holds, with a
// sentence of its own about what is wrong: `oneOf` can only say that none fits. Callers see the rule in the spec.
const saidBetterBy = "x-said-better"

// asChecked is a schema without what is said better by whoever reads the body. Schemas that it shares are not changed.
func asChecked(s *openapi3.Schema) *openapi3.Schema {
	return (&checked{map[*openapi3.Schema]*openapi3.Schema{}}).of(s)
}

type checked struct {
	done map[*openapi3.Schema]*openapi3.Schema
}

func (c *checked) of(s *openapi3.Schema) *openapi3.Schema {
	if again, ok := c.done[s]; ok {
		return again
	}
	out := *s
	c.done[s] = &out
	better, _ := s.Extensions[saidBetterBy].([]any)
	for _, keyword := range better {
		switch keyword {
		case "pattern":
			out.Pattern = ""
		case "enum":
			out.Enum = nil
		case "oneOf":
			out.OneOf = nil
		case "anyOf":
			out.AnyOf = nil
		case "not":
			out.Not = nil
		}
	}
	out.Items, out.Not = c.ref(out.Items), c.ref(out.Not)
	out.OneOf, out.AnyOf, out.AllOf = c.refs(out.OneOf), c.refs(out.AnyOf), c.refs(out.AllOf)
	out.AdditionalProperties.Schema = c.ref(out.AdditionalProperties.Schema)
	if s.Properties != nil {
		out.Properties = make(openapi3.Schemas, len(s.Properties))
		for name, property := range s.Properties {
			out.Properties[name] = c.ref(property)
		}
	}
	return &out
}

func (c *checked) ref(r *openapi3.SchemaRef) *openapi3.SchemaRef {
	if r == nil {
		return nil
	}
	return &openapi3.SchemaRef{Value: c.of(r.Value)}
}

func (c *checked) refs(list openapi3.SchemaRefs) (out openapi3.SchemaRefs) {
	for _, r := range list {
		out = append(out, c.ref(r))
	}
	return out
}
