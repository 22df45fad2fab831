// Package shopsheet says what stands on the sheet for the workbench: pieces and blanks, the cutting plan, what to get, the
// seams, the fixings, the work with its waits, and what to take care of.
package shopsheet

import (
	"strconv"
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/document"
	"seamwright/service/document/speak"
	"seamwright/service/drawing/pen"
	"seamwright/service/estimate"
	"seamwright/service/measure"
)

// Input is what a shop sheet is made of.
type Input struct {
	Estimate *estimate.Estimate
	Shop     document.Letterhead
	Number   string // of the quote; empty: an estimate that was not stored
	Revision int
	Date     catalogue.Date
	Paper    document.Paper
	Language string // one of words.Languages
}

// New makes the sheet. It returns an Invalid fault for a language that there is not.
func New(in *Input) (*document.Document, error) {
	speaker, err := speak.In(in.Language)
	if err != nil {
		return nil, err
	}
	m := &maker{Input: in, e: in.Estimate, speaker: speaker, speech: speaker.Drawings}
	name := m.e.Reference
	if name == "" {
		name = m.say("Shop sheet")
	}
	for _, part := range []func() error{func() error { return m.overview(name) }, m.toGet, m.sheets, m.walls,
		m.tolerances, m.wood, m.seams, m.base, m.fixing, m.wayIn, m.lifting, m.work, m.notes} {
		if err := part(); err != nil {
			return nil, err
		}
	}
	return &document.Document{Title: name, Language: in.Language, Paper: in.Paper,
		Letter: document.Letterhead{Name: in.Shop.Name}, Page: speaker.Say("page"),
		Foot: m.foot(), Created: string(in.Date) + "T00:00:00Z", Blocks: m.blocks}, nil
}

type maker struct {
	*Input
	e       *estimate.Estimate
	speaker *speak.Speaker
	speech  pen.Speech
	blocks  []document.Block
}

func (m *maker) add(blocks ...document.Block) { m.blocks = append(m.blocks, blocks...) }

func (m *maker) chapter(text string) { m.add(document.Heading{Level: 2, Text: text}) }

// closeIfNeeded is blocks that stand closer where the page has no room for them otherwise, and go on to another page where it has none
// even then.
func closeIfNeeded(blocks ...document.Block) document.Fitting {
	return document.Fitting{Ways: ways(blocks), Else: blocks}
}

// ways are blocks as they are, and with their lines closer.
func ways(blocks []document.Block) [][]document.Block {
	return [][]document.Block{blocks, {document.Close{Blocks: blocks}}}
}

// say says a text in the sheet's language, told a sentence of the answer.
func (m *maker) say(english string, values ...any) string { return m.speech.Say(english, values...) }
func (m *maker) told(sentence string) string              { return m.speech.Told(sentence) }

func (m *maker) text(l measure.Length) string { return m.speech.Number(l.Text(m.e.Units)) }

func (m *maker) least(l measure.Length) string {
	return m.speech.Number(l.TextAs(m.e.Units, measure.Least))
}

// foot names the job on every page: the quote and its revision, or what the prices rest on when there is none, and the reference, which
// may be long.
func (m *maker) foot() string {
	foot := m.say("Shop sheet") + " · " + m.speaker.Day(m.Date) + " · "
	if m.Number != "" {
		foot += m.say("quote %s, revision %s", m.Number, strconv.Itoa(m.Revision))
	} else {
		foot += m.say("catalogue revision %s, prices of %s", strconv.FormatInt(m.e.Revision, 10), m.speaker.Day(m.e.PricedAsOf))
	}
	if m.e.Reference != "" {
		foot += " · " + pen.Isolate(m.e.Reference)
	}
	return foot
}

func (m *maker) mass(whole string) string {
	if m.e.Units == measure.Millimetres {
		return m.speech.Phrase(whole + " kg")
	}
	return m.speech.Phrase(whole + " lb")
}

func (m *maker) unitName() string {
	if m.e.Units == measure.Millimetres {
		return m.say("millimetres")
	}
	return m.say("inches")
}

// decimal is a number with so many places at most.
func (m *maker) decimal(x float64, places int) string {
	return m.speech.Amount(strconv.FormatFloat(measure.Round(x, places), 'f', -1, 64))
}

// named is what the bill calls a material; its code when the bill has none.
func (m *maker) named(code string) string {
	for i := range m.e.Bill {
		if m.e.Bill[i].Item == code {
			return m.told(m.e.Bill[i].Description)
		}
	}
	return code
}

// corner names a corner, or a straight seam, which is none.
func (m *maker) corner(k int) string {
	if m.e.InLine(k) {
		return m.say("Seam %s", strconv.Itoa(k+1))
	}
	return m.say("Corner %s", strconv.Itoa(k+1))
}

// place names what in the order a warning is about: a corner, a piece or a cut-out; empty for the whole.
func (m *maker) place(pointer string) string {
	if k := m.e.CornerAt(pointer); k >= 0 {
		return m.corner(k)
	}
	rest, found := strings.CutPrefix(pointer, "/top/")
	if !found {
		return ""
	}
	parts := strings.Split(rest, "/")
	if len(parts) < 2 {
		return ""
	}
	n, err := strconv.Atoi(parts[1])
	if err != nil || n < 0 {
		return ""
	}
	switch {
	case parts[0] == "runs" && n < len(m.e.Legs()):
		return m.say("Piece %s", pen.Short(m.e.Runs[m.e.Legs()[n][0]].Name, 24))
	case parts[0] == "cutouts" && n < len(m.e.Cutouts):
		return m.say("Cut-out %s in %s", strconv.Itoa(n+1), pen.Short(m.e.Cutouts[n].Run, 24))
	}
	return ""
}

// profile is the edges' profile with its size.
func (m *maker) profile() string {
	text := m.say(string(m.e.Made.Profile))
	if m.e.Made.ProfileSize > 0 {
		text += " " + m.text(m.e.Made.ProfileSize)
	}
	return text
}

// woodOf is a piece's wood and how it is sawn.
func (m *maker) woodOf(r *estimate.RunResult) string {
	return m.speech.Name(r.Wood) + ", " + m.say(string(r.Sawn)+"-sawn")
}
