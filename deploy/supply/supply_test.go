package main

import (
	"os"
	"path/filepath"
	"testing"

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
