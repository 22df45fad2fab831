// Package openapi holds the published description of the service: the one source of truth for what callers may
// send and what they get. It is embedded, parsed once and shared.
package openapi

import (
	_ "embed"
	"fmt"
	"sync"

	"github.com/getkin/kin-openapi/openapi3"
)

//go:embed openapi.yaml
var text []byte

// YAML returns the document as it is written. Callers must not change the bytes.
func YAML() []byte { return text }

// Document returns the parsed and checked document, references resolved. Callers must not change it. It fails
// only when the embedded document is wrong, which the tests of this package rule out.
func Document() (*openapi3.T, error) { return parsed() }

// Version is the version of the interface, and of the service that has it.
func Version() string {
	document, err := parsed()
	if err != nil {
		return "unknown" // which whoever serves the document finds out
	}
	return document.Info.Version
}

// JSON returns the document in its JSON form. Callers must not change the bytes.
func JSON() ([]byte, error) { return asJSON() }

var parsed = sync.OnceValues(func() (*openapi3.T, error) {
	loader := openapi3.NewLoader()
	document, err := loader.LoadFromData(text)
	if err != nil {
		return nil, fmt.Errorf("read openapi.yaml: %w", err)
	}
	// Examples are checked by the tests: at the start of the service that would only take time.
	if err := document.Validate(loader.Context, openapi3.DisableExamplesValidation()); err != nil {
		return nil, fmt.Errorf("check openapi.yaml: %w", err)
	}
	return document, nil
})

var asJSON = sync.OnceValues(func() ([]byte, error) {
	document, err := parsed()
	if err != nil {
		return nil, err
	}
	return document.MarshalJSON()
})
