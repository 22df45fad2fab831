package main

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// chosen is the name of the variable, in the code under test and in the environment, that says which mistake is made.
const (
	chosen      = "mutantChosen"
	environment = "MUTANT_CHOSEN"
)

// chooser is the file that is added to the package.
func chooser(packageName string) []byte {
	return fmt.Appendf(nil, `package %s

import (
	"os"
	"strconv"
)

var %s = func() int {
	n, _ := strconv.Atoi(os.Getenv(%q))
	return n
}()
`, packageName, chosen, environment)
}

// numbered is a mistake with the number that chooses it.
type numbered struct {
	number int
	*mutant
}

// weave puts many mistakes of one file into it, each beside what is right. Those in code that is in it twice already are
// left over.
func weave(list []numbered) (woven []byte, left []numbered) {
	source := list[0].source
	groups := map[[2]int][]numbered{}
	var regions [][2]int
	for _, m := range list {
		key := [2]int{m.place.from, m.place.to}
		if groups[key] == nil {
			regions = append(regions, key)
		}
		groups[key] = append(groups[key], m)
	}
	slices.SortFunc(regions, func(a, b [2]int) int { return slices.Compare(a[:], b[:]) })
	var twins []byte
	at := 0
	for _, r := range regions {
		if r[0] < at {
			left = append(left, groups[r]...)
			continue
		}
		woven = append(woven, source[at:r[0]]...)
		woven = append(woven, both(groups[r])...)
		at = r[1]
		if groups[r][0].place.way == whole {
			for _, m := range groups[r] {
				twins = append(twins, m.twin()...)
			}
		}
	}
	return slices.Concat(woven, source[at:], twins), left
}

// twin is the whole function with the mistake in it.
func (m numbered) twin() string {
	t := m.place.whole
	code := fmt.Sprintf("%s_%d%s%s%s", m.source[t.from:t.name], m.number, m.source[t.name:m.offset], m.text, m.source[m.end:t.end])
	return fmt.Sprintf("\n\n/*line mutant%d.go:1:1*/%s\n/*line rest.go:1:1*/", m.number, code)
}

// both is the code of a place: what is right, and each mistake in it.
func both(group []numbered) string {
	p := group[0].place
	right := string(group[0].source[p.from:p.to])
	var b strings.Builder
	switch {
	case p.way == whole:
		for _, m := range group {
			call := fmt.Sprintf("%s_%d(%s)", p.whole.call, m.number, p.whole.args)
			if p.whole.returns {
				fmt.Fprintf(&b, " if %s == %d { return %s };", chosen, m.number, call)
			} else {
				fmt.Fprintf(&b, " if %s == %d { %s; return };", chosen, m.number, call)
			}
		}
	case p.way == truth:
		b.WriteString("(")
		for _, m := range group {
			fmt.Fprintf(&b, "%s == %d && (%s) || ", chosen, m.number, m.wrong())
		}
		for _, m := range group {
			fmt.Fprintf(&b, "%s != %d && ", chosen, m.number)
		}
		b.WriteString("(" + right + "))")
	case p.way == naming:
		b.WriteString(right)
		for _, m := range group {
			fmt.Fprintf(&b, "; if %s == %d { %s }", chosen, m.number, m.wrong())
		}
	case p.way == leaving && !slices.ContainsFunc(group, numbered.stays):
		for _, m := range group {
			fmt.Fprintf(&b, "if %s == %d { %s }; ", chosen, m.number, m.wrong())
		}
		b.WriteString(right)
	default:
		for _, m := range group {
			fmt.Fprintf(&b, "if %s == %d { %s } else ", chosen, m.number, m.wrong())
		}
		b.WriteString("{ " + right + " }")
	}
	return b.String()
}

// stays reports whether a return is left out, or only what it returns worked out.
func (m numbered) stays() bool { return m.kind == statement }

// wrong is the code of the place with the mistake in it. The compiler reports what does not compile there as of a file
// that is named for the number.
func (m numbered) wrong() string {
	p := m.place
	code := string(m.source[p.from:m.offset]) + m.text + string(m.source[m.end:p.to])
	if p.way == naming {
		code = code[:p.define] + code[p.define+1:] // "=" for ":="
	}
	return fmt.Sprintf("/*line mutant%d.go:1:1*/%s/*line rest.go:%d:1*/", m.number, code, m.line)
}

// refused are the numbers of the mistakes that the compiler named; rest is true when it named something else as well.
func refused(said string) (numbers map[int]bool, rest bool) {
	numbers = map[int]bool{}
	for line := range strings.Lines(said) {
		if found := refusal.FindStringSubmatch(line); found != nil {
			n, _ := strconv.Atoi(found[1]) // digits by the pattern
			numbers[n] = true
		} else if elsewhere.MatchString(line) {
			rest = true
		}
	}
	return numbers, rest
}

var (
	refusal   = regexp.MustCompile(`mutant(\d+)\.go:\d+:\d+: `)
	elsewhere = regexp.MustCompile(`\.go:\d+(:\d+)?: `)
)
