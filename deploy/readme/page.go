package main

import (
	"fmt"
	"regexp"
	"strings"
)

// block is what stands between two fences of the page.
type block struct {
	line     int // of its fence
	language string
	text     string
	heading  string // of its section
	before   string // the line of text before it
}

// read divides the page into its blocks. It is not sound when a block does not end before the next heading's, or when a heading
// has no empty line before it.
func read(page string) (blocks []block, err error) {
	var open *block
	heading, before, last := "", "", ""
	for i, line := range strings.Split(page, "\n") {
		switch fence := strings.HasPrefix(line, "```"); {
		case fence && open == nil:
			open = &block{line: i + 1, language: line[3:], heading: heading, before: before}
		case fence && line == "```":
			blocks, open = append(blocks, *open), nil
		case fence:
			return nil, fmt.Errorf("line %d: a block begins in the block of line %d", i+1, open.line)
		case open != nil:
			open.text += line + "\n"
		case strings.HasPrefix(line, "#"):
			if heading != "" && last != "" {
				return nil, fmt.Errorf("line %d: no empty line before %q", i+1, line)
			}
			heading = line
		case line != "":
			before = line
		}
		last = line
	}
	if open != nil {
		return nil, fmt.Errorf("the block of line %d does not end", open.line)
	}
	return blocks, nil
}

// left says why a block of commands is not run here; empty: it is.
func (b *block) left() string {
	for _, l := range []struct{ has, why string }{
		{"go test ./...", "the tests are a check by themselves"},
		{"npm ci", "the TypeScript client is a check by itself"},
		{"walk.py", "the Python client is a check by itself"},
		{"nightly-reprice", "it has tests of its own"},
		{"@logo.png", "the shop's own picture"},
		{"--order-page-key", "the order page is opened by the browser's check"},
		{"https://shop.example/hooks", "it calls the shop's own address"},
		{"keys rotate ID", "a key's name stands for one that the reader has"},
	} {
		if strings.Contains(b.text, l.has) {
			return l.why
		}
	}
	return ""
}

// other says why a block shows what another call or day gave; empty: it shows what the commands above it print.
func (b *block) other() string {
	switch {
	case strings.Contains(b.text, `"glue_up",`):
		return "34 finished jobs"
	case strings.Contains(b.text, ".pgdump ("):
		return "a backup's size and endpoints"
	}
	return ""
}

// shownBelow is the block that shows what the commands print: the next one, if nothing stands between.
func shownBelow(b *block, behind []block) *block {
	if len(behind) == 0 {
		return nil
	}
	next := &behind[0]
	if next.heading != b.heading || next.before != b.before || next.language == "sh" || next.language == "csv" {
		return nil
	}
	return next
}

var (
	pairs  = regexp.MustCompile(`"[a-z_0-9]+":("(?:[^"\\]|\\.)*"|-?[0-9][0-9.]*|true|false|null)`)
	spaces = regexp.MustCompile(`\s+`)
)

// facts are what a block shows: of objects each name with its plain value, up to what is left out of a text ("…"); of all else
// each line.
func (b *block) facts() (facts []string) {
	if strings.HasPrefix(b.text, `{"`) || strings.HasPrefix(b.text, `"`) {
		for _, p := range pairs.FindAllString(squeezed(b.text), -1) {
			p, _, _ = strings.Cut(p, "…")
			facts = append(facts, p)
		}
		return facts
	}
	for _, line := range strings.Split(b.text, "\n") {
		if line = strings.TrimSpace(squeezed(line)); line != "" && line != "…" {
			facts = append(facts, line)
		}
	}
	return facts
}

// squeezed is a text of which blanks do not tell: those between a name and its value, and more than one.
func squeezed(text string) string {
	return strings.ReplaceAll(spaces.ReplaceAllString(text, " "), `": `, `":`)
}
