package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// tree writes files under a folder.
func tree(t *testing.T, files map[string]string) string {
	t.Helper()
	root := t.TempDir()
	for name, text := range files {
		path := filepath.Join(root, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	}
	return root
}

// first is the order of what is tried at each site of a queue.
func first(q queue) []string {
	var list []string
	for _, s := range q.sites {
		list = append(list, s[0].after)
	}
	return list
}

func TestTheSeedDecides(t *testing.T) {
	t.Parallel()
	root := tree(t, map[string]string{
		"service/a/a.go":         "package a\n\nvar a, b, c, d, e, f, g = 1.5, 2.5, 3.5, 4.5, 5.5, 6.5, 7.5\n",
		"service/a/a_test.go":    "package a\n\nvar test = 9.5\n",
		"service/b/inner/b.go":   "package inner\n\nvar b = 8.5\n",
		"service/btest/btest.go": "package btest\n\nvar b = 9.5\n",
		"api/api.go":             "package api\n\nvar b = 9.5\n",
	})
	one, err := plan(root, options{seed: 1}, nil)
	require.NoError(t, err)
	require.Len(t, one, 2)
	require.Equal(t, "a", one[0].name)
	require.Len(t, one[0].sites, 7)
	require.Equal(t, "b/inner", one[1].name)
	require.Len(t, one[1].sites, 1)

	again, err := plan(root, options{seed: 1, packages: []string{"a"}}, nil)
	require.NoError(t, err)
	require.Equal(t, first(one[0]), first(again[0]))
	other, err := plan(root, options{seed: 2, packages: []string{"a"}}, nil)
	require.NoError(t, err)
	require.NotEqual(t, first(one[0]), first(other[0]))

	_, err = plan(root, options{seed: 1, packages: []string{"c"}}, nil)
	require.ErrorContains(t, err, "service/c has no Go files")
}

func TestWhatIsKnownToChangeNothingIsNotMade(t *testing.T) {
	t.Parallel()
	root := tree(t, map[string]string{"service/a/a.go": "package a\n\nvar a = 1.5\n\nvar b = 2.5\n"})
	known := equivalents{
		{"service/a/a.go", "", "var a = 1.5", "var a = 1.575"}: true,
		{"service/a/a.go", "", "var a = 1.5", "var a = 1.425"}: true,
		{"service/a/a.go", "", "var b = 2.5", "var b = 2.375"}: true,
	}
	queues, err := plan(root, options{seed: 1}, known)
	require.NoError(t, err)
	require.Equal(t, []string{"var b = 2.625"}, first(queues[0]))
}

func TestRowsWhoseCodeIsGoneAreNamed(t *testing.T) {
	t.Parallel()
	root := tree(t, map[string]string{"service/a/a.go": "package a\n\nvar a = 1.5\n"})
	kept, gone := [4]string{"service/a/a.go", "", "var a = 1.5", "var a = 1.575"},
		[4]string{"service/a/a.go", "", "var b = 1.5", "var b = 1.575"}
	stale, err := staleRows(root, equivalents{kept: true, gone: true})
	require.NoError(t, err)
	require.Equal(t, [][4]string{gone}, stale)
}

func TestEveryEquivalentHasAReason(t *testing.T) {
	t.Parallel()
	known, err := readEquivalent()
	require.NoError(t, err)
	require.NotEmpty(t, known)
}

func TestAPlaceNamesEveryMistakeThere(t *testing.T) {
	t.Parallel()
	root := tree(t, map[string]string{
		"service/a/a.go":       "package a\n\nvar a = 1.5\nvar b = 2.5\n",
		"service/a/other.go":   "package a\n\nvar c = 3.5\n",
		"service/b/inner/b.go": "package inner\n\nvar b = 8.5\nvar c = 9.5\n",
	})
	for _, c := range []struct {
		name string
		at   []string
		want map[string][]string
	}{
		{"a line", []string{"a/a.go:4"}, map[string][]string{"a": {"var b = 2.375", "var b = 2.625"}}},
		{"a file", []string{"a/a.go"}, map[string][]string{"a": {"var a = 1.425", "var a = 1.575", "var b = 2.375",
			"var b = 2.625"}}},
		{"two packages", []string{"a/other.go", "b/inner/b.go:3"}, map[string][]string{"a": {"var c = 3.325", "var c = 3.675"},
			"b/inner": {"var b = 8.075", "var b = 8.925"}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			queues, err := plan(root, options{seed: 1, at: c.at}, nil)
			require.NoError(t, err)
			got := map[string][]string{}
			for _, q := range queues {
				got[q.name] = first(q)
			}
			require.Len(t, got, len(c.want))
			for name, want := range c.want {
				require.ElementsMatch(t, want, got[name])
			}
		})
	}
	_, err := plan(root, options{at: []string{"a/a.go:x"}}, nil)
	require.ErrorContains(t, err, "after the colon stands a line's number")
}
