package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
)

// report prints who lived, and the rates by package and by kind.
func report(out io.Writer, o options, all []result) error {
	var b strings.Builder
	b.WriteString("Survivors:\n\n")
	for _, r := range sorted(all) {
		if !r.dead() {
			fmt.Fprintf(&b, "%s:%d %s, %s: %s\n  - %s\n  + %s\n", r.file, r.line, r.function, r.kind, r.verdict, r.before,
				r.after)
		}
	}
	fmt.Fprintf(&b, "\nSeed %d:\n\n", o.seed)
	table(&b, "package", all, func(r result) string { return r.pack })
	b.WriteString("\n")
	table(&b, "kind", all, func(r result) string { return string(r.kind) })
	_, err := io.WriteString(out, b.String())
	return err
}

// sorted is the results by file and line.
func sorted(all []result) []result {
	list := slices.Clone(all)
	slices.SortStableFunc(list, func(a, b result) int {
		if a.file != b.file {
			return strings.Compare(a.file, b.file)
		}
		return a.line - b.line
	})
	return list
}

// table prints how many of each group died, and of all.
func table(b *strings.Builder, head string, all []result, group func(result) string) {
	type tally struct{ made, died, late, unreached, stopped int }
	count := map[string]*tally{}
	for _, r := range all {
		for _, g := range []string{group(r), "all"} {
			t := count[g]
			if t == nil {
				t = &tally{}
				count[g] = t
			}
			t.made++
			if r.dead() {
				t.died++
			}
			switch r.verdict {
			case endless:
				t.late++
			case unreached:
				t.unreached++
			case stopped:
				t.stopped++
			case died, lived, unviable: // counted already, and never made
			}
		}
	}
	names := make([]string, 0, len(count))
	for name := range count {
		if name != "all" {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	fmt.Fprintf(b, "| %-20s | mutants | died | of them by time | no test comes there | stopped | rate |\n"+
		"| --- | --- | --- | --- | --- | --- | --- |\n", head)
	for _, name := range append(names, "all") {
		if t := count[name]; t != nil {
			fmt.Fprintf(b, "| %-20s | %7d | %4d | %15d | %19d | %7d | %3.0f %% |\n", name, t.made, t.died, t.late, t.unreached,
				t.stopped, 100*float64(t.died)/float64(t.made))
		}
	}
}
