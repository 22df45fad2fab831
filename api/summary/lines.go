package summary

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"seamwright/service/measure"
)

// Columns that a text is laid out for.
const (
	leastColumns = 40
	mostColumns  = 120 // wider, and the eye loses the line
	usualColumns = 80  // where nobody says how wide it is
)

// printer lays text out.
type printer struct {
	b       strings.Builder
	units   measure.System
	columns int
}

func newPrinter(units measure.System, columns int) *printer {
	if columns <= 0 {
		columns = usualColumns
	}
	return &printer{units: units, columns: min(max(columns, leastColumns), mostColumns)}
}

// line writes one line as it is.
func (p *printer) line(format string, args ...any) { fmt.Fprintf(&p.b, format+"\n", args...) }

// prose writes a text in lines that are no wider than the columns; those after the first are indented by hang.
func (p *printer) prose(hang int, format string, args ...any) {
	for i, line := range wrap(fmt.Sprintf(format, args...), p.columns, hang) {
		if i > 0 {
			p.b.WriteString(strings.Repeat(" ", hang))
		}
		p.b.WriteString(line)
		p.b.WriteByte('\n')
	}
}

func (p *printer) title(text string) {
	p.b.WriteByte('\n')
	p.ruled(text, "─")
}

func (p *printer) ruled(text, rule string) {
	wide := 0
	for _, line := range wrap(text, p.columns, 0) {
		p.line("%s", line)
		wide = max(wide, width(line))
	}
	p.line("%s", strings.Repeat(rule, wide))
}

func width(text string) int { return utf8.RuneCountInString(text) }

// wrap cuts a text at blanks into lines of at most so many columns; all but the first have hang columns less. Blanks at the text's
// beginning stay. A word that is too long is cut.
func wrap(text string, columns, hang int) []string {
	rest := strings.TrimLeft(text, " ")
	line := text[:len(text)-len(rest)]
	room, fresh := columns, true
	var lines []string
	end := func() {
		lines = append(lines, strings.TrimRight(line, " "))
		line, room, fresh = "", max(columns-hang, 1), true
	}
	for word := range strings.FieldsSeq(rest) {
		if !fresh && width(line)+1+width(word) > room {
			end()
		}
		for width(line)+width(word) > room && fresh {
			runes := []rune(word)
			take := max(room-width(line), 1)
			line += string(runes[:take])
			word = string(runes[take:])
			end()
		}
		if !fresh {
			line += " "
		}
		line, fresh = line+word, false
	}
	end()
	return lines
}

// chosenMark stands before what was chosen.
const chosenMark = "►"

// gap is between the columns of a table.
const gap = 2

// table prints rows of cells under a head, in columns as wide as what stands in them. What is too wide for the page is wrapped within
// its column, the widest first.
func (p *printer) table(rows ...[]string) {
	wide := p.share(rows)
	for _, row := range rows {
		cells, high := make([][]string, len(row)), 1
		for i, cell := range row {
			text := strings.TrimLeft(strings.TrimPrefix(cell, chosenMark), " ")
			hang := width(cell) - width(text)
			cells[i] = wrap(cell, wide[i], hang)
			for k := range cells[i][1:] {
				cells[i][k+1] = strings.Repeat(" ", hang) + cells[i][k+1]
			}
			high = max(high, len(cells[i]))
		}
		for k := range high {
			line := "  "
			for i, cell := range cells {
				text := ""
				if k < len(cell) {
					text = cell[k]
				}
				line += text + strings.Repeat(" ", wide[i]-width(text)+gap)
			}
			p.line("%s", strings.TrimRight(line, " "))
		}
	}
}

// share gives each column the width that it wants, and takes from the widest as long as the table is too wide: first where blanks are,
// then within words.
func (p *printer) share(rows [][]string) []int {
	var wide, word []int
	for _, row := range rows {
		for i, cell := range row {
			if i == len(wide) {
				wide, word = append(wide, 0), append(word, 1)
			}
			wide[i] = max(wide[i], width(cell))
			for one := range strings.FieldsSeq(cell) {
				word[i] = max(word[i], width(one))
			}
		}
	}
	over := 2 + gap*(len(wide)-1) - p.columns
	for _, w := range wide {
		over += w
	}
	const least = 4
	for _, floor := range []func(int) int{func(i int) int { return word[i] }, func(int) int { return least }} {
		for ; over > 0; over-- {
			widest := -1
			for i, w := range wide {
				if w > floor(i) && (widest < 0 || w > wide[widest]) {
					widest = i
				}
			}
			if widest < 0 {
				break
			}
			wide[widest]--
		}
	}
	return wide
}
