package main

import (
	"encoding/json"
	"os"

	"github.com/getkin/kin-openapi/openapi3"
)

// usual writes the spec with one form of each answer: where a query chooses among several (?fields=summary), the first in
// the spec, which is what callers get who do not ask. A tool that looks for breaking changes takes another form beside it
// for a change of all answers. What whoever reads a body says better than a schema (x-said-better) is left out as well: it was
// held to before it was written down, and tests hold what is written against what is read. Of a parameter that takes a list
// joined by commas, and took one word in the last release, the word counts: it is sent and read as it was. Both specs that are
// compared are written so.
func usual(document, before *openapi3.T, out string) error {
	for name, path := range document.Paths.Map() {
		for method, operation := range path.Operations() {
			if item := before.Paths.Value(name); item != nil && item.GetOperation(method) != nil {
				oneWord(operation.Parameters, item.GetOperation(method).Parameters)
			}
			for _, answer := range operation.Responses.Map() {
				for _, media := range answer.Value.Content {
					for schema := media.Schema; schema != nil && schema.Value != nil; schema = media.Schema {
						forms := append(schema.Value.AnyOf, schema.Value.OneOf...)
						if len(forms) == 0 || len(schema.Value.Properties) > 0 {
							break
						}
						media.Schema = forms[0]
					}
				}
			}
		}
	}
	for _, schema := range document.Components.Schemas {
		plain(schema.Value)
	}
	raw, err := json.Marshal(document)
	if err != nil {
		return err
	}
	return os.WriteFile(out, raw, 0o600)
}

// oneWord puts a word in the place of a list of words joined by commas, where one word was taken before.
func oneWord(parameters, before openapi3.Parameters) {
	for _, p := range parameters {
		now := p.Value
		was := before.GetByInAndName(now.In, now.Name)
		if was == nil || was.Schema.Value.Type.Is(openapi3.TypeArray) || !now.Schema.Value.Type.Is(openapi3.TypeArray) ||
			now.Style != openapi3.SerializationForm || now.Explode == nil || *now.Explode {
			continue
		}
		word := *now
		word.Schema, word.Style, word.Explode, word.Example = now.Schema.Value.Items, "", nil, nil
		p.Value = &word
	}
}

// plain takes out of a schema, and of its properties, what is said better by whoever reads the body.
func plain(s *openapi3.Schema) {
	better, _ := s.Extensions["x-said-better"].([]any)
	for _, keyword := range better {
		switch keyword {
		case "pattern":
			s.Pattern = ""
		case "enum":
			s.Enum = nil
		case "oneOf":
			s.OneOf = nil
		case "anyOf":
			s.AnyOf = nil
		case "not":
			s.Not = nil
		}
	}
	for _, property := range s.Properties {
		if property.Ref == "" {
			plain(property.Value)
		}
	}
}
