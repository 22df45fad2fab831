package main

import (
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Every proof that the README names is there.
func TestTheProofsThatTheREADMENamesExist(t *testing.T) {
	t.Parallel()
	raw, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	_, promises, found := strings.Cut(string(raw), "## What is promised")
	require.True(t, found)
	var named int
	for _, line := range strings.Split(promises, "\n") {
		cells := strings.Split(line, " | ")
		if len(cells) < 2 {
			continue
		}
		for _, m := range regexp.MustCompile("`([A-Za-z]+)`").FindAllStringSubmatch(cells[1], -1) {
			named++
			if strings.HasPrefix(m[1], "Test") {
				out, err := exec.Command("grep", "-rlE", "--include=*_test.go", `^func `+m[1]+`\(`, "../..").CombinedOutput()
				require.NoError(t, err, "%s %s", m[1], out)
				continue
			}
			require.True(t, slices.ContainsFunc(scenarios, func(s scenario) bool { return s.name == m[1] }), m[1])
		}
	}
	require.Greater(t, named, 25)
}
