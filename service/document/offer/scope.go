package offer

import (
	"slices"
	"strings"

	"seamwright/service/document"
	"seamwright/service/document/speak"
	"seamwright/service/estimate"
)

// lists are what is included and what is not, beside each other; loose ones may stand one under the other.
func (o *maker) lists(loose bool) document.Columns {
	included, left := o.scope()
	return document.Columns{Share: planShare, Loose: loose,
		Left:  []document.Block{document.Heading{Level: 2, Text: o.Say("included")}, document.List{Items: included}},
		Right: []document.Block{document.Heading{Level: 2, Text: o.Say("not_included_head")}, document.List{Items: left}}}
}

// scope is what the price includes, and what it does not: both are read off what was priced.
func (o *maker) scope() (included, left []string) {
	m := &o.e.Made
	walls := o.e.WallLengths()
	length := func(i int) string { return o.Length(walls[i]+o.e.MouldedEnd(i), o.e.Units) }
	for i := range o.e.Runs {
		r := &o.e.Runs[i]
		if !o.mixed() {
			break // the first sentence and the plan say it
		}
		included = append(included, o.Say("piece", speak.With{"Name": r.Name, "Length": length(i),
			"Depth": o.Length(o.e.FinishedDepth(i), o.e.Units), "Wood": o.Drawings.Name(r.Wood)}, o.unit))
	}
	included = append(included, o.Say("made_"+string(m.Construction)))
	if m.Build == estimate.BuiltUp { // whoever buys a thick top is told that it is not so thick all over
		included = append(included, o.Say("made_built_up", speak.With{"Size": o.Length(m.Layer, o.e.Units)}, o.unit))
	}
	included = append(included, o.Say("edge_"+string(m.Profile), speak.With{"Size": o.Length(m.ProfileSize, o.e.Units)}, o.unit))
	if m.Moulding > 0 {
		included = append(included, o.Say("edge_moulding", speak.With{"Size": o.Length(m.Moulding, o.e.Units)}, o.unit))
	}
	if m.FinishName == "" {
		included = append(included, o.Say("finish_none"))
	} else {
		included = append(included, o.Many("finish_"+string(m.Faces), m.Coats,
			speak.With{"Name": o.Drawings.Name(m.FinishName)}))
	}
	if n := len(o.e.Cutouts); n > 0 {
		included = append(included, o.Many("openings", n, speak.With{"List": o.openings()}))
	}
	if o.e.Fixing.Count > 0 {
		included = append(included, o.Say("fixing"))
	}
	services, missing := o.e.Services()
	if len(services) > 0 {
		var list []string
		for _, s := range services {
			list = append(list, o.Say("service_"+string(s)))
		}
		included = append(included, o.Say("services", speak.With{"List": strings.Join(list, ", ")}))
	}
	if o.e.Labour.NoPromise != "" {
		included = append(included, o.Say("no_days"))
	} else {
		included = append(included, o.Many("days", o.e.Labour.WorkingDays))
	}
	for _, s := range missing {
		left = append(left, o.Say("not_"+string(s)))
	}
	return included, append(left, o.Say("not_site"), o.Say("not_trades"))
}

// mixed reports whether the runs are of several woods.
func (o *maker) mixed() bool {
	return slices.ContainsFunc(o.e.Runs, func(r estimate.RunResult) bool { return r.Wood != o.e.Runs[0].Wood })
}

// openings names the cut-outs with their sizes and their runs.
func (o *maker) openings() string {
	var list []string
	for i := range o.e.Cutouts {
		c := &o.e.Cutouts[i]
		text := o.Drawings.Say(strings.ReplaceAll(c.Kind, "_", " "))
		if len(c.Outline) == 4 {
			text += " " + o.Length(c.Outline[0].Distance(c.Outline[1]), o.e.Units) + " × " +
				o.Length(c.Outline[1].Distance(c.Outline[2]), o.e.Units) + " " + o.Say("unit_"+o.e.Units.String())
		}
		list = append(list, text+" ("+c.Run+")")
	}
	return strings.Join(list, ", ")
}
