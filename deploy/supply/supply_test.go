package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/stretchr/testify/require"
)

func TestLicencesAreToldApart(t *testing.T) {
	t.Parallel()
	for text, name := range map[string]string{
		"Permission is hereby granted,\n free of charge, to any person":                        "MIT",
		"Apache License\nVersion 2.0, January 2004":                                            "Apache-2.0",
		"Redistributions in binary form must reproduce … Neither the name of the":              "BSD-3-Clause",
		"GNU GENERAL PUBLIC LICENSE\nVersion 3 … permission is hereby granted, free of charge": "",
		"All rights reserved.": "",
	} {
		require.Equal(t, name, licenceOf(text), text)
	}
}

func TestReportsAreIndexedByModule(t *testing.T) {
	t.Parallel()
	from, to := t.TempDir(), t.TempDir()
	require.Error(t, index(from, to), "no reports are no good news")
	require.NoError(t, os.MkdirAll(filepath.Join(from, "data", "osv"), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(from, "data", "osv", "GO-1.json"),
		[]byte(`{"id":"GO-1","modified":"2026-01-02T00:00:00Z","affected":[{"package":{"name":"stdlib"}},{"package":{"name":"example.com/m"}},{"package":{"name":"stdlib"}}]}`), 0o600))
	require.NoError(t, index(from, to))
	modules, err := os.ReadFile(filepath.Join(to, "index", "modules.json"))
	require.NoError(t, err)
	require.JSONEq(t, `[{"path":"example.com/m","vulns":[{"id":"GO-1","modified":"2026-01-02T00:00:00Z"}]},{"path":"stdlib","vulns":[{"id":"GO-1","modified":"2026-01-02T00:00:00Z"}]}]`, string(modules))
	require.FileExists(t, filepath.Join(to, "ID", "GO-1.json"))
}

// What is compared with the last release: of answers the first form, of a list joined by commas the word that was taken before,
// and no rule that is said better elsewhere. A list that was taken before stays one.
func TestTheUsualSpecIsWhatCallersOfBeforeKnow(t *testing.T) {
	t.Parallel()
	spec := func(status string) *openapi3.T {
		document, err := openapi3.NewLoader().LoadFromData([]byte(`{"openapi": "3.0.3", "info": {"title": "t", "version": "1"},
			"components": {"schemas": {"A": {"type": "object", "x-said-better": ["not"], "not": {"required": ["x"]}}}},
			"paths": {"/things": {"get": {"parameters": [{"name": "status", "in": "query", ` + status + `}],
			"responses": {"200": {"description": "d", "content": {"application/json": {"schema":
			{"anyOf": [{"$ref": "#/components/schemas/A"}, {"type": "string"}]}}}}}}}}}`))
		require.NoError(t, err)
		return document
	}
	word, list := `"schema": {"type": "string"}`, `"style": "form", "explode": false, "schema": {"type": "array", "items": {"type": "string"}}`
	for _, c := range []struct{ now, before, is string }{{list, word, "string"}, {word, word, "string"}, {list, list, "array"}} {
		out := filepath.Join(t.TempDir(), "out.json")
		require.NoError(t, usual(spec(c.now), spec(c.before), out))
		written, err := openapi3.NewLoader().LoadFromFile(out)
		require.NoError(t, err)
		get := written.Paths.Value("/things").Get
		require.True(t, get.Parameters[0].Value.Schema.Value.Type.Is(c.is), "%v", c)
		require.Equal(t, "#/components/schemas/A", get.Responses.Value("200").Value.Content["application/json"].Schema.Ref)
		require.Nil(t, written.Components.Schemas["A"].Value.Not)
	}
}
