package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
)

// entry is what an index says of a report (Open Source Vulnerability format, https://go.dev/doc/security/vuln/database).
type entry struct {
	ID       string `json:"id"`
	Modified string `json:"modified"`
	Affected []struct {
		Module struct {
			Path string `json:"name"`
		} `json:"package"`
	} `json:"affected"`
}

type indexed struct {
	Path  string     `json:"path"`
	Vulns []mentions `json:"vulns"`
}

type mentions struct {
	ID       string `json:"id"`
	Modified string `json:"modified"`
}

// index copies the reports of a copy of golang.org/x/vulndb and writes the indexes that govulncheck reads.
func index(module, to string) error {
	reports, err := filepath.Glob(filepath.Join(module, "data", "osv", "*.json"))
	if err != nil {
		return err
	}
	if len(reports) == 0 {
		return fmt.Errorf("%s has no reports", module)
	}
	if err := errors.Join(os.MkdirAll(filepath.Join(to, "ID"), 0o755), os.MkdirAll(filepath.Join(to, "index"), 0o755)); err != nil { //nolint:gosec // nothing secret
		return err
	}
	modules, last := map[string][]mentions{}, ""
	for _, path := range reports {
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		var e entry
		if err := json.Unmarshal(text, &e); err != nil {
			return fmt.Errorf("%s: %w", path, err)
		}
		last = max(last, e.Modified)
		for _, a := range e.Affected {
			if m := (mentions{e.ID, e.Modified}); !slices.Contains(modules[a.Module.Path], m) {
				modules[a.Module.Path] = append(modules[a.Module.Path], m)
			}
		}
		if err := os.WriteFile(filepath.Join(to, "ID", e.ID+".json"), text, 0o644); err != nil { //nolint:gosec // nothing secret
			return err
		}
	}
	var list []indexed
	for _, path := range slices.Sorted(maps.Keys(modules)) {
		list = append(list, indexed{path, modules[path]})
	}
	for name, value := range map[string]any{"db.json": map[string]string{"modified": last}, "modules.json": list} {
		raw, err := json.Marshal(value)
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(to, "index", name), raw, 0o644); err != nil { //nolint:gosec // nothing secret
			return err
		}
	}
	return nil
}
