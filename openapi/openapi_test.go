package openapi_test

import (
	"encoding/json"
	"sort"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/stretchr/testify/require"

	"seamwright/openapi"
)

func TestTheDocumentIsSoundAndItsExamplesFitTheirSchemas(t *testing.T) {
	t.Parallel()
	document, err := openapi.Document()
	require.NoError(t, err)
	require.Equal(t, "3.0.3", document.OpenAPI)
	require.NotEmpty(t, openapi.YAML())
	require.NoError(t, document.Validate(t.Context()), "with the examples")
}

func TestTheJSONFormSaysTheSame(t *testing.T) {
	t.Parallel()
	raw, err := openapi.JSON()
	require.NoError(t, err)
	again, err := openapi3.NewLoader().LoadFromData(raw)
	require.NoError(t, err)
	document, err := openapi.Document()
	require.NoError(t, err)
	require.Equal(t, document.Paths.Len(), again.Paths.Len())
	require.Len(t, again.Components.Schemas, len(document.Components.Schemas))
	require.True(t, json.Valid(raw))
}

// Every object is closed, every property is described, every array and text is bounded: a schema without a bound
// is a door that nobody watches.
func TestEverySchemaIsClosedDescribedAndBounded(t *testing.T) {
	t.Parallel()
	document, err := openapi.Document()
	require.NoError(t, err)
	names := make([]string, 0, len(document.Components.Schemas))
	for name := range document.Components.Schemas {
		names = append(names, name)
	}
	sort.Strings(names)
	for _, name := range names {
		check(t, name, document.Components.Schemas[name].Value)
	}
}

func check(t *testing.T, at string, s *openapi3.Schema) {
	t.Helper()
	require.NotEmpty(t, s.Description, "%s has no description", at)
	if s.AdditionalProperties.Schema != nil { // texts by names that callers choose
		require.NotNil(t, s.MaxProps, "%s has no maxProperties", at)
		check(t, at+"/*", s.AdditionalProperties.Schema.Value)
	} else if s.Type.Is("object") && len(s.AllOf) == 0 {
		require.NotNil(t, s.AdditionalProperties.Has, "%s does not say whether it is closed", at)
		require.Equal(t, s.Extensions["x-open"] != nil, *s.AdditionalProperties.Has,
			"%s is open without a reason in x-open, or the other way round", at)
		for _, required := range s.Required {
			require.Contains(t, s.Properties, required, "%s requires what it does not have", at)
		}
	}
	if s.Type.Is("array") {
		require.NotNil(t, s.MaxItems, "%s has no maxItems", at)
		check(t, at+"/items", s.Items.Value)
	}
	if s.Type.Is("string") && len(s.Enum) == 0 {
		require.NotNil(t, s.MaxLength, "%s has no maxLength", at)
	}
	if s.Pattern != "" && strings.Contains(s.Pattern, "a-z") {
		require.NotEmpty(t, s.Extensions["x-expected"], "%s has a pattern but no words for it", at)
	}
	for name, property := range s.Properties {
		check(t, at+"/"+name, property.Value)
	}
}

func TestEveryOperationIsNamedDescribedAndSaysHowItFails(t *testing.T) {
	t.Parallel()
	document, err := openapi.Document()
	require.NoError(t, err)
	seen := map[string]string{}
	for path, item := range document.Paths.Map() {
		for method, operation := range item.Operations() {
			at := method + " " + path
			require.NotEmpty(t, operation.OperationID, at)
			require.Empty(t, seen[operation.OperationID], "%s has the name of another operation", at)
			seen[operation.OperationID] = at
			require.NotEmpty(t, operation.Summary, at)
			require.NotEmpty(t, operation.Description, at)
			require.Len(t, operation.Tags, 1, at)
			require.NotNil(t, operation.Responses.Value("500"), at)
			for status, response := range operation.Responses.Map() {
				require.NotNil(t, response.Value.Headers["X-Request-ID"], "%s %s", at, status)
			}
			if operation.RequestBody != nil {
				for kind, content := range operation.RequestBody.Value.Content {
					require.NotEmpty(t, content.Examples, "%s %s", at, kind)
				}
			}
		}
	}
}

// What answers carry besides their content is written down, and whoever may be told that nothing changed can ask so.
func TestEveryOperationSaysItsHeaders(t *testing.T) {
	t.Parallel()
	document, err := openapi.Document()
	require.NoError(t, err)
	takes := func(o *openapi3.Operation, name string) bool {
		return o.Parameters.GetByInAndName(openapi3.ParameterInHeader, name) != nil
	}
	for path, item := range document.Paths.Map() {
		for method, operation := range item.Operations() {
			at := method + " " + path
			require.Equal(t, operation.Responses.Value("304") != nil, takes(operation, "If-None-Match") && method == "GET", at)
			for status, response := range operation.Responses.Map() {
				if status[0] != '2' || !strings.HasPrefix(path, "/v1/") || strings.HasPrefix(operation.Responses.Value(status).Ref, "#") {
					continue
				}
				require.NotNil(t, response.Value.Headers["RateLimit"], at)
				require.NotNil(t, response.Value.Headers["RateLimit-Policy"], at)
				require.NotNil(t, response.Value.Headers["Test-Call"], at)
				require.Equal(t, takes(operation, "Idempotency-Key"), response.Value.Headers["Idempotency-Replayed"] != nil, at)
			}
		}
	}
}

// Every operation shows what it answers with, in each form in which it answers.
func TestEveryOperationHasAnExampleOfItsAnswer(t *testing.T) {
	t.Parallel()
	document, err := openapi.Document()
	require.NoError(t, err)
	for path, item := range document.Paths.Map() {
		for method, operation := range item.Operations() {
			for status, response := range operation.Responses.Map() {
				for kind, media := range response.Value.Content {
					require.True(t, status[0] != '2' || media.Example != nil || len(media.Examples) > 0,
						"%s %s has no example of an answer %s that is %s", method, path, status, kind)
				}
			}
		}
	}
}

func BenchmarkDocument(b *testing.B) {
	for b.Loop() {
		loader := openapi3.NewLoader()
		document, err := loader.LoadFromData(openapi.YAML())
		require.NoError(b, err)
		require.NoError(b, document.Validate(loader.Context, openapi3.DisableExamplesValidation()))
	}
}
