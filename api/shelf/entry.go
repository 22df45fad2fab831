package shelf

import (
	"encoding/json"
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/sheet"
	"seamwright/service/source"
	"seamwright/store/shelf"
)

// keeping says how the JSON of a thing and the row of its part go together.
type keeping struct {
	part  *sheet.Part
	links []link
}

func keepingOf(part *sheet.Part) keeping { return keeping{part, linksOf(part)} }

// link joins a value in the body and a cell of the row.
type link struct {
	paths  []string // names joined by dots; of several the first that is there counts
	cell   string
	unseen bool // GET does not show it and the body need not have it: it stays, or begins with a default
	as     conversion
}

// pointer returns the JSON pointer of a cell's value.
func (k keeping) pointer(cell string) string {
	c := k.part.Column(cell)
	if c == nil {
		return ""
	}
	return "/" + strings.ReplaceAll(c.Held[0].Path, ".", "/")
}

// explain says where in the body is what an edit refused.
func (k keeping) explain(err error) error {
	var refused *shelf.RefusedError
	if !errors.As(err, &refused) {
		return err
	}
	for i := range refused.Wrong {
		refused.Wrong[i].Detail = k.inJSON(refused.Wrong[i].Detail)
	}
	return unfitCells(refused, func(w sheet.Wrong) fault.Fault { return fault.Fault{Pointer: k.pointer(w.Column)} })
}

// names are words joined by underscores, as columns of several words are named; what is quoted is passed over, as it is the sender's.
var names = regexp.MustCompile(`"(?:[^"\\]|\\.)*"|\b[a-z]+(?:_[a-z0-9]+)+\b`)

// inJSON calls the columns that a sentence names as bodies do.
func (k keeping) inJSON(detail string) string {
	return names.ReplaceAllStringFunc(detail, func(name string) string {
		if c := k.part.Column(name); c != nil {
			return c.Held[0].Path
		}
		return name
	})
}

// unfitCells is the refusal of what cannot go into the catalogue. Of several things wrong with one cell the first counts:
// a cell that could not be read breaks other rules as well.
func unfitCells(refused *shelf.RefusedError, place func(sheet.Wrong) fault.Fault) error {
	var list fault.List
	seen := map[string]bool{}
	for _, w := range refused.Wrong {
		f := place(w)
		if at := f.Place(); !seen[at] {
			seen[at] = true
			f.Kind, f.Detail = fault.Impossible, w.Detail
			list = append(list, &f)
		}
	}
	return web.RefuseAll(web.UnfitEntry, list)
}

// entry is a thing as a body describes it.
type entry struct {
	keeping
	code   string
	units  measure.System
	body   map[string]any
	faults fault.List
}

func newEntry(k keeping, value any, code string) *entry {
	fields, _ := value.(map[string]any)
	f := &entry{keeping: k, code: code, body: fields, units: measure.Millimetres}
	if fields["units"] == "in" {
		f.units = measure.Inches
	}
	name := k.part.Columns[0].Name
	if sent, there := fields[name]; there && sent != code {
		f.refuse("/"+name, fmt.Sprintf("Must be %q as in the path: the code of a thing never changes.", fault.Cut(code, 64)))
	}
	return f
}

func (f *entry) refuse(pointer, detail string) {
	f.faults = append(f.faults, &fault.Fault{Kind: fault.Invalid, Pointer: pointer, Detail: detail})
}

// at returns the value at the first of the paths that is there, nil when none is.
func (f *entry) at(paths ...string) (value any) {
	for _, path := range paths {
		value = f.body
		for name := range strings.SplitSeq(path, ".") {
			fields, _ := value.(map[string]any)
			value = fields[name]
		}
		if value != nil {
			return value
		}
	}
	return nil
}

// row makes the row that the body describes. A number that is sent as GET showed it keeps its exact value: answers
// are rounded, and sending one back must not change what is kept.
func (f *entry) row(present shelf.Present) (sheet.Row, []sheet.Wrong) {
	row := f.part.Empty()
	row.Cells[0] = f.code
	was := func(cell string) string {
		if !present.Live {
			return ""
		}
		return present.Row.Get(cell)
	}
	var wrong []sheet.Wrong
	if _, err := f.part.Columns[0].Read(f.code); err != nil {
		wrong = append(wrong, sheet.Wrong{Column: f.part.Columns[0].Name,
			Detail: sheet.Sentence(f.part.Columns[0].Name, err)})
	}
	for _, l := range f.links {
		if _, sent := f.body[l.paths[0]]; !sent && l.unseen {
			row.Set(l.cell, f.unsent(l.cell, present))
			continue
		}
		text, err := l.as.read(f, f.at(l.paths...), was(l.cell))
		if err == nil {
			text, err = f.part.Column(l.cell).Read(text)
		}
		if err != nil {
			wrong = append(wrong, sheet.Wrong{Column: l.cell, Detail: sheet.Sentence(l.cell, err)})
		}
		row.Set(l.cell, text)
	}
	return row, wrong
}

// unsent is a cell that GET does not show and that was not sent: as it is, or as it begins.
func (f *entry) unsent(cell string, present shelf.Present) string {
	switch {
	case present.Live:
		return present.Row.Get(cell)
	case cell == "source":
		return string(source.CommonPractice)
	}
	return ""
}

// conversion reads the cell from a value of the body; was is the cell that there is, empty when there is none.
type conversion struct {
	read func(f *entry, value any, was string) (string, error)
}

// asText takes text, and a code or a day; null and nothing are an empty cell.
var asText = conversion{func(_ *entry, value any, _ string) (string, error) {
	text, _ := value.(string)
	return text, nil
}}

// asTruth takes true and false; nothing is false.
var asTruth = conversion{func(_ *entry, value any, _ string) (string, error) {
	truth, _ := value.(bool)
	return strconv.FormatBool(truth), nil
}}

// asTexts takes a list of texts.
var asTexts = conversion{func(_ *entry, value any, _ string) (string, error) {
	list, _ := value.([]any)
	words := make([]string, len(list))
	for i := range list {
		words[i], _ = list[i].(string)
		if words[i] == "" || strings.ContainsAny(words[i], " \t\n") {
			return "", fmt.Errorf("entry %d %q is not a code", i+1, fault.Cut(words[i], 60))
		}
	}
	return strings.Join(words, " "), nil
}}

// asNumber takes a number that GET shows with so many decimals; shown is what GET makes of the cell's number.
func asNumber(shown func(f *entry, cell float64) float64, kept func(f *entry, sent float64) float64) conversion {
	return conversion{func(f *entry, value any, was string) (string, error) {
		sent, there := value.(json.Number)
		if !there {
			return "", nil
		}
		x, err := sent.Float64()
		if err != nil {
			return "", fmt.Errorf("%q is too large to reckon with", fault.Cut(string(sent), 60))
		}
		if old, err := strconv.ParseFloat(was, 64); err == nil && shown(f, old) == x {
			return was, nil
		}
		return plainNumber(kept(f, x)), nil
	}}
}

// asPlain takes a number that is kept as it is sent.
func asPlain(places int) conversion {
	return asNumber(func(_ *entry, cell float64) float64 { return measure.Round(cell, places) },
		func(_ *entry, sent float64) float64 { return sent })
}

// asLength takes a length in the body's units, as a number or as makers write it; kept are millimetres.
var asLength = conversion{func(f *entry, value any, was string) (string, error) {
	var l measure.Length
	var err error
	switch v := value.(type) {
	case json.Number:
		l, err = measure.ParseNumber(string(v), f.units)
		x, odd := v.Float64()
		if old, none := strconv.ParseFloat(was, 64); err == nil && odd == nil && none == nil &&
			measure.Length(old).Number(f.units) == x {
			return was, nil
		}
	case string:
		l, err = measure.ParseLength(v, f.units)
	default:
		return "", nil
	}
	if err != nil {
		return "", errors.New(wire.LengthTrouble(err))
	}
	return plainNumber(l.Millimetres()), nil
}}

// asLengths takes a list of lengths.
var asLengths = conversion{func(f *entry, value any, was string) (string, error) {
	list, _ := value.([]any)
	old := strings.Fields(was)
	words := make([]string, len(list))
	for i := range list {
		before := ""
		for _, o := range old { // a length that is shown like one there is, is that one
			if read, err := asLength.read(f, list[i], o); err == nil && read == o {
				before = o
			}
		}
		read, err := asLength.read(f, list[i], before)
		if err != nil {
			return "", fmt.Errorf("entry %d %w", i+1, err)
		}
		words[i] = read
	}
	return strings.Join(words, " "), nil
}}

// asArea takes square feet or square metres; kept are square metres.
var asArea = asNumber(
	func(f *entry, cell float64) float64 {
		return (measure.Area(cell) * measure.SquareMetre).Number(f.units)
	},
	func(f *entry, sent float64) float64 {
		if f.units == measure.Inches {
			return (measure.Area(sent) * measure.SquareFoot).SquareMetres()
		}
		return sent
	})

// asForce takes pounds-force or newtons; kept are newtons.
var asForce = asNumber(
	func(f *entry, cell float64) float64 { return measure.Force(cell).Number(f.units) },
	func(f *entry, sent float64) float64 {
		if f.units == measure.Inches {
			return (measure.Force(sent) * measure.PoundForce).Newtons()
		}
		return sent
	})
