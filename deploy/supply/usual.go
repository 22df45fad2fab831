package main

import (
	"encoding/json"
	"os"

	"github.com/getkin/kin-openapi/openapi3"

	"seamwright/openapi"
)

// usual writes the spec with one form of each answer: where a query chooses among several (?fields=summary), the first in
// the spec, which is what callers get who do not ask. A tool that looks for breaking changes takes another form beside it
// for a change of all answers. What whoever reads a body says better than a schema (x-said-better) is left out as well: it was
// held to before it was written down, and tests hold what is written against what is read.
func usual(out string) error {
	document, err := openapi.Document()
	if err != nil {
		return err
	}
	for _, path := range document.Paths.Map() {
		for _, operation := range path.Operations() {
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
