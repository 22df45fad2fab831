package options

import (
	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/fault"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/options"
	"seamwright/service/plan"
	"seamwright/service/source"
)

// set is a set of options as answers show it.
type set struct {
	Units       string        `json:"units"`
	Reference   string        `json:"reference"`
	Currency    string        `json:"currency"`
	Catalogue   version       `json:"catalogue"`
	RankedBy    string        `json:"ranked_by"`
	Items       []option      `json:"items"`
	Impossible  []impossible  `json:"impossible"`
	Assumptions []assumption  `json:"assumptions"`
	Cautions    []string      `json:"cautions"`
	Sources     []publication `json:"sources"`
}

type version struct {
	Revision   int64          `json:"revision"`
	PricedAsOf catalogue.Date `json:"priced_as_of"`
}

type option struct {
	Number        int              `json:"number"`
	Species       string           `json:"species"`
	Wood          string           `json:"wood"`
	Thickness     float64          `json:"thickness"`
	ThicknessText string           `json:"thickness_text"`
	Joint         *plan.JointKind  `json:"joint"`
	JointAsked    *plan.JointKind  `json:"joint_asked"`
	Joints        []plan.JointKind `json:"joints"`
	Finish        string           `json:"finish"`
	FinishName    string           `json:"finish_name"`
	Total         money.Amount     `json:"total"`
	Movement      float64          `json:"movement"`
	MovementText  string           `json:"movement_text"`
	Weight        float64          `json:"weight"`
	WorkingDays   *int             `json:"working_days"`
	Strength      *float64         `json:"strength"`
	Hours         float64          `json:"hours"`
	Ranks         ranks            `json:"ranks"`
	Dominated     bool             `json:"dominated"`
	DominatedBy   *int             `json:"dominated_by"`
	Warnings      []string         `json:"warnings"`
}

type ranks struct {
	Price    int `json:"price"`
	Movement int `json:"movement"`
	Weight   int `json:"weight"`
	Days     int `json:"days"`
	Strength int `json:"strength"`
}

type impossible struct {
	Species       string          `json:"species"`
	Thickness     float64         `json:"thickness"`
	ThicknessText string          `json:"thickness_text"`
	Joint         *plan.JointKind `json:"joint"`
	Finish        *string         `json:"finish"`
	Reasons       []reason        `json:"reasons"`
}

type reason struct {
	Pointer string `json:"pointer"`
	Detail  string `json:"detail"`
}

type assumption struct {
	Pointer string `json:"pointer"`
	Value   any    `json:"value"`
	Why     string `json:"why"`
}

type publication struct {
	ID    source.ID `json:"id"`
	Title string    `json:"title"`
}

func shownSet(s *options.Set) set {
	in := s.Units
	return set{
		in.String(),
		s.Reference,
		s.Currency,
		version{s.Revision, s.PricedAsOf},
		options.Words()[s.By],
		wire.Shown(s.Options, func(o *options.Option) option { return shownOption(o, in) }),
		wire.Shown(s.Impossible, func(i *options.Impossible) impossible {
			return impossible{
				i.Species,
				i.Thickness.Number(in),
				i.Thickness.Text(in),
				wire.Maybe(i.Joint),
				wire.Maybe(i.Finish),
				wire.Shown(i.Reasons, shownReason),
			}
		}),
		wire.Shown(
			s.Assumptions,
			func(a *estimate.Assumption) assumption { return assumption{a.Pointer, plainValue(a.Value, in), a.Why} },
		),
		wire.Listed(
			s.Cautions,
		),
		wire.Shown(s.Sources, func(p *source.Source) publication { return publication{p.ID, p.Title} }),
	}
}

func shownOption(o *options.Option, in measure.System) option {
	return option{
		o.Number,
		o.Species,
		o.Wood,
		o.Thickness.Number(in),
		o.Thickness.Text(in),
		wire.Maybe(o.Joint),
		wire.Maybe(o.JointAsked),
		wire.Listed(o.Joints),
		o.Finish,
		o.FinishName,
		o.Total,
		o.Movement.Number(in),
		o.Movement.Text(in),
		wire.Rounded(o.Weight.Number(in), 1),
		maybeDays(o.WorkingDays),
		o.MaybeStrength(),
		wire.Rounded(o.Hours, 2),
		ranks{
			o.Ranks[options.ByPrice],
			o.Ranks[options.ByMovement],
			o.Ranks[options.ByWeight],
			o.Ranks[options.ByDays],
			o.Ranks[options.ByStrength],
		},
		o.DominatedBy > 0,
		maybeDays(o.DominatedBy),
		wire.Listed(o.Warnings),
	}
}

func shownReason(f **fault.Fault) reason {
	detail := (*f).Detail
	if (*f).Fix != "" {
		detail += " " + (*f).Fix
	}
	return reason{(*f).Pointer, detail}
}

// maybeDays is a number that counts from 1; nil for 0.
func maybeDays(n int) *int {
	if n == 0 {
		return nil
	}
	return &n
}

// plainValue is an assumed value as JSON has it: lengths in the answer's units, angles in degrees.
func plainValue(v any, in measure.System) any {
	switch v := v.(type) {
	case measure.Length:
		return v.Number(in)
	case measure.Angle:
		return wire.Rounded(v.Degrees(), 4)
	case float64:
		return wire.Rounded(v, 6)
	}
	return v
}
