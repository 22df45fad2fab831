package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// known are licences that a program under any licence may be built from, by words that only they have, narrower ones first.
var known = []struct{ name, words string }{
	{"Apache-2.0", "apache license"},
	{"MPL-2.0", "mozilla public license version 2.0"},
	{"MPL-2.0", "mozilla public license, version 2.0"},
	{"BSD-3-Clause", "neither the name"},
	{"BSD-2-Clause", "redistributions in binary form must reproduce"},
	{"ISC", "permission to use, copy, modify, and/or distribute this software"},
	{"ISC", "permission to use, copy, modify, and distribute this software"},
	{"MIT", "permission is hereby granted, free of charge"},
}

// licenceOf names the licence of a text; empty: a strange one.
func licenceOf(text string) string {
	plain := strings.Join(strings.Fields(strings.ToLower(text)), " ")
	if strings.HasPrefix(plain, "gnu ") {
		return ""
	}
	for _, one := range known {
		if strings.Contains(plain, one.words) {
			return one.name
		}
	}
	return ""
}

type module struct{ Path, Version, Dir string }

// licences lists every module that is linked into the service.
func licences(out io.Writer) error {
	raw, err := exec.Command("go", "list", "-deps", "-f",
		"{{with .Module}}{{if not .Main}}{{.Path}}\t{{.Version}}\t{{.Dir}}{{end}}{{end}}", ".", "./deploy/health").Output()
	if err != nil {
		return fmt.Errorf("list the modules (in the project's folder): %w", err)
	}
	lines := strings.Split(strings.TrimSpace(string(raw)), "\n")
	slices.Sort(lines)
	var strange []error
	for _, line := range slices.Compact(lines) {
		parts := strings.Split(line, "\t")
		if len(parts) != 3 {
			continue // an empty one, of the standard library
		}
		m := module{parts[0], parts[1], parts[2]}
		name := m.licence()
		fmt.Fprintf(out, "%s %s %s\n", m.Path, m.Version, cmp.Or(name, "?"))
		if name == "" {
			strange = append(strange, fmt.Errorf("the licence of %s is none of those known to be fine", m.Path))
		}
	}
	return errors.Join(strange...)
}

// licence is that of the module's first text that has one.
func (m *module) licence() string {
	files, err := filepath.Glob(filepath.Join(m.Dir, "*"))
	if err != nil {
		return ""
	}
	for _, path := range files {
		base := strings.ToUpper(filepath.Base(path))
		if !strings.HasPrefix(base, "LICENSE") && !strings.HasPrefix(base, "LICENCE") && !strings.HasPrefix(base, "COPYING") {
			continue
		}
		text, err := os.ReadFile(path)
		if err != nil {
			continue // a folder
		}
		if name := licenceOf(string(text)); name != "" {
			return name
		}
	}
	return ""
}
