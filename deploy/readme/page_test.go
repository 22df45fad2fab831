package main

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestThisProjectsPageIsSound(t *testing.T) {
	t.Parallel()
	raw, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	blocks, err := read(string(raw))
	require.NoError(t, err)
	run, shown := 0, 0
	for i := range blocks {
		if b := &blocks[i]; b.language == "sh" && b.left() == "" {
			run++
			if s := shownBelow(b, blocks[i+1:]); s != nil && s.other() == "" {
				shown++
				require.NotEmpty(t, s.facts(), "line %d", s.line)
			}
		}
	}
	require.Greater(t, run, 15)
	require.Greater(t, shown, 10)
}

func TestAPageThatIsNotSoundIsRefused(t *testing.T) {
	t.Parallel()
	for want, page := range map[string]string{
		"line 3: a block begins in the block of line 1": "```json\n{}\n```sh\nls\n```\n",
		"the block of line 2 does not end":              "a\n```json\n{}\n",
		"line 3: no empty line before \"## b\"":         "# a\ntext\n## b\n",
	} {
		_, err := read(page)
		require.EqualError(t, err, want)
	}
}

func TestWhatABlockShows(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		text string
		want []string
	}{
		"pairs":   {`"runs": [ { "name": "A", "area":  16.91, "made": null } ]`, []string{`"name":"A"`, `"area":16.91`, `"made":null`}},
		"cut off": {`{"why": "We recommend: …", "of": {…}}`, []string{`"why":"We recommend: `}},
		"rows":    {"  1\toak\t4.50\n…\n  2\tash\n", []string{"1 oak 4.50", "2 ash"}},
		"list":    {`[1.5,[48,14],"55-1/4"]`, []string{`[1.5,[48,14],"55-1/4"]`}},
	} {
		require.Equal(t, c.want, (&block{text: c.text}).facts(), name)
	}
}

func TestOnlyWhatStandsRightBelowIsCompared(t *testing.T) {
	t.Parallel()
	blocks, err := read("# a\ncall:\n```sh\nls\n```\n\n```json\n{\"a\": 1}\n```\n\nand\n\n```sh\nls\n```\nother:\n```json\n{\"b\": 2}\n```\n")
	require.NoError(t, err)
	require.Len(t, blocks, 4)
	require.Equal(t, &blocks[1], shownBelow(&blocks[0], blocks[1:]))
	require.Nil(t, shownBelow(&blocks[2], blocks[3:]))
}
