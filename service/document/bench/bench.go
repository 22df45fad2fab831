// Package bench makes the papers that lie on the wood: templates and storey sticks at true size, the cutting plan board by board, and
// labels.
package bench

import (
	"strconv"

	"seamwright/service/catalogue"
	"seamwright/service/document"
	"seamwright/service/document/speak"
	"seamwright/service/drawing/pen"
	"seamwright/service/drawing/truesize"
	"seamwright/service/estimate"
)

// Input is what these papers are made of.
type Input struct {
	Estimate *estimate.Estimate
	Shop     document.Letterhead
	Number   string // of the quote; empty: an estimate that was not stored
	Revision int
	Date     catalogue.Date
	Language string
	Paper    document.Paper
}

// maker is a paper on its way.
type maker struct {
	*Input
	e       *estimate.Estimate
	speaker *speak.Speaker
	speech  pen.Speech
	blocks  []document.Block
}

func newMaker(in *Input) (*maker, error) {
	speaker, err := speak.In(in.Language)
	if err != nil {
		return nil, err
	}
	return &maker{Input: in, e: in.Estimate, speaker: speaker, speech: speaker.Drawings}, nil
}

func (m *maker) say(english string, values ...any) string { return m.speech.Say(english, values...) }

func (m *maker) add(blocks ...document.Block) { m.blocks = append(m.blocks, blocks...) }

// job names what is made: the number of the quote with its revision, and the reference, which may be long.
func (m *maker) job() string {
	text, quote := pen.Isolate(m.e.Reference), m.quote()
	if text != "" && quote != "" {
		quote += " · "
	}
	return quote + text
}

// quote is the quote's number and revision; empty: it was not stored.
func (m *maker) quote() string {
	if m.Number == "" {
		return ""
	}
	return m.say("No. %s, revision %s", m.Number, strconv.Itoa(m.Revision))
}

// finish puts the document together.
func (m *maker) finish(title string) *document.Document {
	foot := title
	for _, part := range []string{m.speaker.Day(m.Date), m.Shop.Name, m.job()} {
		if part != "" {
			foot += " · " + part
		}
	}
	return &document.Document{Title: title, Language: m.Language, Paper: m.Paper,
		Letter: document.Letterhead{Name: m.Shop.Name}, Page: m.speaker.Say("page"),
		Foot: foot, Created: string(m.Date) + "T00:00:00Z", Blocks: m.blocks}
}

// head opens a paper: what it is and for which job.
func (m *maker) head(title string) {
	m.add(document.Heading{Level: 1, Text: title})
	if job := m.job(); job != "" {
		m.add(document.Text{Tone: document.Lead, Text: job})
	}
}

// sheet is the paper as a drawing knows it.
func (m *maker) sheet() truesize.Paper {
	w, h := m.Paper.Size()
	return truesize.Paper{Width: w, Height: h}
}
