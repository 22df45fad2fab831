package counter

import (
	"encoding/json"

	"seamwright/api/wire"
	"seamwright/service/measure"
	"seamwright/service/orderform"
)

// shownForm is the order form as answers show it.
type shownForm struct {
	Units      string          `json:"units"`
	Currency   string          `json:"currency"`
	IncludeTax bool            `json:"prices_include_tax"`
	Shows      string          `json:"shows"`
	ValidDays  int             `json:"valid_days"`
	Compares   string          `json:"compares"`
	Limits     limits          `json:"limits"`
	Choices    choices         `json:"choices"`
	Texts      texts           `json:"texts"`
	Schema     json.RawMessage `json:"schema"`
}

// limits are in the form's units.
type limits struct {
	LeastLength  float64 `json:"least_length"`
	MostLength   float64 `json:"most_length"`
	LeastDepth   float64 `json:"least_depth"`
	MostDepth    float64 `json:"most_depth"`
	MostSides    int     `json:"most_sides"`
	MostOpenings int     `json:"most_openings"`
	MostBase     int     `json:"most_base"`
	LeastAngle   int     `json:"least_angle"`
	MostAngle    int     `json:"most_angle"`
}

type choices struct {
	Shapes      []choice `json:"shapes"`
	Turns       []choice `json:"turns"`
	Woods       []choice `json:"woods"`
	Thicknesses []choice `json:"thicknesses"`
	FrontEdges  []choice `json:"front_edges"`
	Finishes    []choice `json:"finishes"`
	Rooms       []choice `json:"rooms"`
	Openings    []choice `json:"openings"`
	Base        []choice `json:"base"`
}

type choice struct {
	Value string `json:"value"`
	Title string `json:"title"`
}

type texts struct {
	Intro     string `json:"intro"`
	Included  string `json:"included"`
	SiteVisit string `json:"site_visit"`
	Next      string `json:"next"`
}

func showForm(f *orderform.Form) (shownForm, error) {
	schema, err := json.Marshal(f.Schema())
	in := func(l measure.Length) float64 { return l.Number(f.Units) }
	return shownForm{f.Units.String(), f.Currency, f.TaxIncluded, map[bool]string{true: "exact", false: "range"}[f.Exact],
		f.ValidDays, f.Compares,
		limits{in(f.LeastLength), in(f.MostLength), in(f.LeastDepth), in(f.MostDepth), len(f.Shapes), orderform.MostOpenings, orderform.MostBelow,
			orderform.LeastCorner, orderform.MostCorner},
		choices{showChoices(f.Shapes), showChoices(f.Turns), showChoices(f.Woods), showThicknesses(f),
			showChoices(f.Edges),
			showChoices(f.Finishes), showChoices(f.Rooms), showChoices(f.Openings),
			showChoices(f.Below)},
		texts{f.Intro, f.Included, f.SiteNote, f.Next}, schema}, err
}

func showChoices(list []orderform.Choice) []choice {
	return wire.Shown(list, func(c *orderform.Choice) choice { return choice{c.Word, c.Title} })
}

func showThicknesses(f *orderform.Form) []choice {
	out := make([]choice, len(f.Thicknesses))
	for i, t := range f.Thicknesses {
		out[i] = choice{t.Word, t.Title}
	}
	return out
}
