package sheet

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"
)

// formula is text that a spreadsheet would take for a formula, apostrophes before it counted in; guarded is what
// Guard makes of it.
var (
	formula = regexp.MustCompile(`^'*[=+\-@\t\r]`)
	guarded = regexp.MustCompile(`^'+[=+\-@\t\r]`)
)

// Guard puts an apostrophe before text that a spreadsheet would run as a formula. A plain number is none. Unguard
// undoes exactly that.
func Guard(text string) string {
	if formula.MatchString(text) && !decimalForm.MatchString(text) {
		return "'" + text
	}
	return text
}

// Unguard takes the apostrophe of Guard away.
func Unguard(text string) string {
	if guarded.MatchString(text) {
		return text[1:]
	}
	return text
}

// Head returns the names in the first line of the part's CSV.
func (p *Part) Head() []string {
	if p.Versioned {
		return append(p.Names(), "version")
	}
	return p.Names()
}

// Record returns the cells of the row as its CSV has them.
func (r Row) Record(version string) []string {
	out := make([]string, 0, len(r.Cells)+1)
	for i, cell := range r.Cells {
		switch c := &r.Part.Columns[i]; {
		case c.Kind == Text:
			cell = Guard(cell)
		case c.Money:
			cell = inCents(cell)
		}
		out = append(out, cell)
	}
	if r.Part.Versioned {
		out = append(out, version)
	}
	return out
}

// Line is a row as it stands in a file.
type Line struct {
	Row     Row
	Number  int    // of the line in the file
	Version string // as exported; empty for a new row
}

// ReadCSV reads a file of the part. Columns may stand in any order; all must be there. Everything that is wrong is
// returned, by line and column; lines that are wrong are left out.
func (p *Part) ReadCSV(raw []byte) (lines []Line, wrong []Wrong) {
	raw = bytes.TrimPrefix(raw, []byte("\ufeff")) // spreadsheets write one
	if !utf8.Valid(raw) {
		return nil, []Wrong{{1 + bytes.Count(raw[:invalidAt(raw)], []byte("\n")), "",
			"The file is not UTF-8 from here on. Save it as CSV UTF-8."}}
	}
	r := csv.NewReader(bytes.NewReader(raw))
	head, err := r.Read()
	if err != nil {
		return nil, []Wrong{{1, "", "The file has no line with the names of the columns."}}
	}
	places, wrong := p.places(head)
	if len(wrong) > 0 {
		return nil, wrong
	}
	seen := map[string]int{}
	for {
		cells, err := r.Read()
		var broken *csv.ParseError
		switch {
		case errors.Is(err, io.EOF):
			return lines, wrong
		case errors.As(err, &broken) && errors.Is(err, csv.ErrFieldCount):
			wrong = append(wrong, Wrong{broken.Line, "", fmt.Sprintf("The line has %d cells; the first line has %d.", len(cells),
				len(head))})
			continue
		case err != nil:
			number := 0
			if broken != nil {
				number = broken.Line
			}
			return lines, append(wrong, Wrong{number, "", "The quotation marks are not in order from here on: " + err.Error() +
				"."})
		}
		if strings.Join(cells, "") == "" {
			continue // a spreadsheet leaves empty lines behind
		}
		number, _ := r.FieldPos(0)
		line, faults := p.line(cells, places, number)
		if len(faults) == 0 {
			if before := seen[line.Row.Key()]; before > 0 {
				faults = []Wrong{{number, p.Columns[0].Name, fmt.Sprintf("%s stands in line %d already.", line.Row.Key(), before)}}
			}
			seen[line.Row.Key()] = number
		}
		if wrong = append(wrong, faults...); len(faults) == 0 {
			lines = append(lines, line)
		}
	}
}

func invalidAt(raw []byte) int {
	for i := 0; i < len(raw); {
		r, n := utf8.DecodeRune(raw[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return len(raw)
}

// places finds each column of the part in the first line.
func (p *Part) places(head []string) (places []int, wrong []Wrong) {
	if len(head) == 1 && strings.Count(head[0], ";") > 1 {
		return nil, []Wrong{{1, "", "The cells are separated by semicolons; save the file with commas, and with a point before decimals."}}
	}
	want := p.Head()
	for i, name := range head {
		head[i] = strings.TrimSpace(name)
		switch {
		case !slices.Contains(want, head[i]):
			wrong = append(wrong, Wrong{1, short(head[i]),
				ended(fmt.Sprintf("There is no column %q%s", short(head[i]), near(head[i], want)))})
		case slices.Contains(head[:i], head[i]):
			wrong = append(wrong, Wrong{1, head[i], "The column stands twice."})
		}
	}
	places = make([]int, len(want))
	for i, name := range want {
		if places[i] = slices.Index(head, name); places[i] < 0 {
			wrong = append(wrong, Wrong{1, name, "The column is missing."})
		}
	}
	return places, wrong
}

// line reads the cells of one line.
func (p *Part) line(cells []string, places []int, number int) (Line, []Wrong) {
	l := Line{Row: p.Empty(), Number: number}
	var wrong []Wrong
	for i := range p.Columns {
		c, text := &p.Columns[i], cells[places[i]]
		if c.Kind == Text {
			text = Unguard(text)
		}
		read, err := c.Read(text)
		if err != nil {
			wrong = append(wrong, Wrong{number, c.Name, Sentence(c.Name, err)})
		}
		l.Row.Cells[i] = read
	}
	if p.Versioned {
		version := Column{Name: "version", Kind: Whole, Low: 1, High: 1e15, Empty: true}
		read, err := version.Read(cells[places[len(p.Columns)]])
		if err != nil {
			wrong = append(wrong, Wrong{number, "version", Sentence("version", err)})
		}
		l.Version = read
	}
	return l, wrong
}

// Sentence makes a sentence about a column of what Read says.
func Sentence(column string, err error) string { return ended(column + " " + err.Error()) }
