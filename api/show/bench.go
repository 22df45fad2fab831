package show

import (
	"seamwright/service/document"
	"seamwright/service/document/bench"
	"seamwright/service/document/speak"
	"seamwright/service/drawing/pen"
	"seamwright/service/drawing/saw"
	"seamwright/service/drawing/truesize"
	"seamwright/service/fault"
)

// Speech is how drawings speak the language of a call, or else the shop's.
func Speech(s *Subject, o Options) (pen.Speech, error) {
	speaker, err := speak.In(language(s, o))
	if err != nil {
		return pen.Speech{}, err
	}
	return speaker.Drawings, nil
}

// language is that of a call, or else the shop's.
func language(s *Subject, o Options) string {
	if o.Language != "" {
		return o.Language
	}
	return s.Shop.ShopLanguage
}

func benchInput(s *Subject, o Options) *bench.Input {
	return &bench.Input{Estimate: s.Estimate, Shop: letterhead(s), Number: s.Number, Revision: s.Revision, Date: s.Date,
		Language: language(s, o), Paper: paper(s, o)}
}

// oneOf refuses a call that names both a run and a corner: a template is of one of them.
func oneOf(o Options) error {
	if o.Corner > 0 && o.Run > 0 {
		return &fault.Fault{Kind: fault.Invalid, Parameter: "corner",
			Detail: "A template is of a run or of a corner, not of both.", Fix: "Leave one of them out."}
	}
	return nil
}

// trueTemplate is that of a corner when the call names one, else of a run's piece.
func trueTemplate(s *Subject, o Options) ([]byte, error) {
	if err := oneOf(o); err != nil {
		return nil, err
	}
	words, err := Speech(s, o)
	if err != nil {
		return nil, err
	}
	make, n := truesize.OfRun, o.Run
	if o.Corner > 0 {
		make, n = truesize.OfCorner, o.Corner
	}
	d, err := make(s.Estimate, place(n), truesize.Options{Below: o.Below, Speech: words})
	if err != nil {
		return nil, err
	}
	return d.SVG(), nil
}

func templateTiles(s *Subject, o Options) (*document.Document, error) {
	if err := oneOf(o); err != nil {
		return nil, err
	}
	if o.Corner > 0 {
		return bench.OfCorner(benchInput(s, o), place(o.Corner), o.Below)
	}
	return bench.OfRun(benchInput(s, o), place(o.Run), o.Below)
}

func stick(s *Subject, o Options) ([]byte, error) {
	words, err := Speech(s, o)
	if err != nil {
		return nil, err
	}
	d, err := truesize.OfStick(s.Estimate, place(o.Corner), truesize.Options{Speech: words})
	if err != nil {
		return nil, err
	}
	return d.SVG(), nil
}

func stickTiles(s *Subject, o Options) (*document.Document, error) {
	return bench.OfStick(benchInput(s, o), place(o.Corner))
}

// boards is the cutting plan board by board.
func boards(s *Subject, o Options) ([]byte, error) {
	words, err := Speech(s, o)
	if err != nil {
		return nil, err
	}
	p, err := saw.New(s.Estimate, saw.Options{Speech: words})
	if err != nil {
		return nil, err
	}
	return p.SVG(), nil
}

func boardPlan(s *Subject, o Options) (*document.Document, error) {
	return bench.Boards(benchInput(s, o))
}

func labels(s *Subject, o Options) (*document.Document, error) { return bench.Labels(benchInput(s, o)) }
