package seam

import (
	"strconv"

	"seamwright/service/estimate"
)

// Bench is a seam's sheet in parts, for a document that sets them itself: what is drawn as pictures, the rest in words.
type Bench struct {
	Title, About string
	Against      []string // what speaks against making it so
	Figures      [][2]string
	Views        Picture
	Marking      Marking
	Names        [2]string   // of the two pieces
	Cuts         [][3]string // what, of the first piece, of the second
	CutNote      string
	Seasons      [][3]string // what, dry, humid
	SeasonNote   string
	Sections     Picture     // without pictures where nothing is cut
	Kinds        [][2]string // parts and what is to be known of their cuts
	Steps        []Step
	StepsNote    string
	Cautions     []string // of this corner; those of the whole top are not among them
}

// Picture is a drawing for paper, to be printed at its own size, for a screen and for a phone.
type Picture struct{ Print, Screen, Phone []byte }

// Marking is the table by which a seam is marked out.
type Marking struct {
	Heads []string
	Rows  [][]string
	Notes []string
}

// New takes the sheet of a corner's seam apart for paper of a width in millimetres; corners count from 0. Its faults are those
// of Draw.
func New(e *estimate.Estimate, corner int, width float64, o Options) (*Bench, error) {
	s, err := newSheet(e, corner, o)
	if err != nil {
		return nil, err
	}
	b := &Bench{Title: s.heading(), About: s.about(), Against: s.against(), Figures: s.figures(),
		Names: [2]string{s.first, s.second},
		Cuts:  s.cuts(), CutNote: s.cutNote(), Seasons: s.seasons(), SeasonNote: s.seasonNote(), Steps: s.list(),
		StepsNote: s.stepsNote(), Cautions: s.warnings()}
	b.Marking.Heads = append([]string{s.say("No.")}, s.heads(true)...)
	for i := range s.marks {
		m := &s.marks[i]
		b.Marking.Rows = append(b.Marking.Rows, append([]string{s.numberText(m)}, s.rowOf(m, true)...))
	}
	if len(s.marks) > 0 {
		b.Marking.Notes = append(b.Marking.Notes, s.tableNote())
	}
	if recesses := s.recessText(); recesses != "" {
		b.Marking.Notes = append(b.Marking.Notes, recesses)
	}
	for _, m := range s.kinds() {
		b.Kinds = append(b.Kinds, [2]string{s.speech.Told(m.part.Name), m.drawn.told(s, m)})
	}
	for i, to := range [][2]*[]byte{{&b.Views.Print, &b.Sections.Print}, {&b.Views.Screen, &b.Sections.Screen},
		{&b.Views.Phone, &b.Sections.Phone}} {
		s.screen, s.narrow = i == 1, i == 2
		*to[0] = s.picture("seam", width, s.views)
		if len(b.Kinds) > 0 {
			*to[1] = s.picture("sections", width, s.grid)
		}
	}
	return b, nil
}

// numberText is a mark's number, in brackets where it only keeps the faces level, as the drawing has it in a ring.
func (s *sheet) numberText(m *mark) string {
	text := strconv.Itoa(m.number)
	if m.pulls() {
		return text
	}
	return "(" + text + ")"
}

// picture draws a part of the sheet by itself.
func (s *sheet) picture(what string, width float64, draw func(x, y, w float64) float64) []byte {
	if s.narrow {
		width = phoneWidth
	}
	s.Reset()
	y := draw(0.5, 0.5, width-1)
	return s.Document(width, y, s.id(what), s.heading(), s.description())
}

// grid draws the sections beside each other.
func (s *sheet) grid(x, y, w float64) float64 {
	across := 2
	if s.narrow {
		across = 1
	}
	each, end := (w-gutter*float64(across-1))/float64(across), y
	for i, m := range s.kinds() {
		if i%across == 0 {
			y = end
		}
		end = max(end, s.section(x+float64(i%across)*(each+gutter), y, each, m)+2)
	}
	return end
}
