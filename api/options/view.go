package options

import (
	"strconv"
	"strings"

	"seamwright/api/estimates"
	"seamwright/api/show"
	"seamwright/api/web"
	"seamwright/service/document/choice"
	"seamwright/service/drawing/choices"
	"seamwright/service/options"
)

// postSetView answers with a view of the set that read has the request of.
func (s *room) postSetView(c *web.Call, read func(*web.Call) (asked, error)) error {
	o, err := estimates.PaperOptions(c)
	if err != nil {
		return err
	}
	m, err := s.made(c, read)
	if err != nil {
		return err
	}
	name, about := c.Param("view"), s.subject(c, &m)
	return estimates.SendMade(s.Server, c, name, about, func() ([]byte, error) { return views(m.set).Make(name, about, o) })
}

// subject is what a document says beside the set.
func (s *room) subject(c *web.Call, m *made) *show.Subject {
	return &show.Subject{
		Estimate:  m.first,
		Shop:      &c.Cat.Settings.ShopSettings,
		Date:      s.Today(c.Cat),
		Reference: m.set.Reference,
	}
}

// views are the views of a set by name.
func views(set *options.Set) show.Views {
	page := func(s *show.Subject, o show.Options) *choice.Input {
		p := show.PaperOf(s, o)
		return &choice.Input{
			Set:      set,
			Top:      s.Estimate,
			Shop:     p.Letter,
			Date:     s.Date,
			Language: p.Language,
			Paper:    p.Paper,
		}
	}
	return show.Views{
		"options.csv": func(*show.Subject, show.Options) ([]byte, error) { return show.Table(rows(set)) },
		"options.svg": func(s *show.Subject, o show.Options) ([]byte, error) {
			in, err := show.Speech(s, o)
			if err != nil {
				return nil, err
			}
			return choices.Draw(set, choices.Options{Narrow: o.Narrow, Speech: in}), nil
		},
		"options.html": func(s *show.Subject, o show.Options) ([]byte, error) {
			d, err := choice.New(page(s, o))
			if err != nil {
				return nil, err
			}
			return d.HTML()
		},
		"options.pdf": func(s *show.Subject, o show.Options) ([]byte, error) {
			d, err := choice.New(page(s, o))
			if err != nil {
				return nil, err
			}
			return d.PDF()
		},
	}
}

// rows is the set as a table: every option, then what cannot be made with its reasons.
func rows(set *options.Set) [][]string {
	in := set.Units
	rows := [][]string{
		{
			"number",
			"species",
			"wood",
			"thickness",
			"thickness_text",
			"joint",
			"finish",
			"total",
			"currency",
			"movement",
			"movement_text",
			"weight",
			"working_days",
			"strength",
			"hours",
			"dominated",
			"dominated_by",
			"unit",
			"warnings",
			"impossible",
		},
	}
	number := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
	count := func(n int) string {
		if n == 0 {
			return ""
		}
		return strconv.Itoa(n)
	}
	for i := range set.Options {
		o := &set.Options[i]
		joints := make([]string, len(o.Joints))
		for k := range joints {
			joints[k] = string(o.Joints[k])
		}
		strength := ""
		if o.StrengthKnown {
			strength = number(o.Strength)
		}
		rows = append(
			rows,
			[]string{
				strconv.Itoa(o.Number),
				o.Species,
				o.Wood,
				number(o.Thickness.Number(in)),
				o.Thickness.Text(in),
				strings.Join(joints, " "),
				o.Finish,
				o.Total.String(),
				set.Currency,
				number(
					o.Movement.Number(in),
				),
				o.Movement.Text(in),
				number(o.Weight.Number(in)),
				count(o.WorkingDays),
				strength,
				number(shownOption(o, in).Hours),
				strconv.FormatBool(
					o.DominatedBy > 0,
				),
				count(o.DominatedBy),
				in.String(),
				strings.Join(o.Warnings, " "),
				"",
			},
		)
	}
	for i := range set.Impossible {
		m := &set.Impossible[i]
		why := make([]string, len(m.Reasons))
		for k := range why {
			why[k] = shownReason(&m.Reasons[k]).Detail
		}
		row := make([]string, len(rows[0]))
		row[1], row[3], row[4], row[5], row[6] = m.Species, number(
			m.Thickness.Number(in),
		), m.Thickness.Text(
			in,
		), string(
			m.Joint,
		), m.Finish
		row[17], row[19] = in.String(), strings.Join(why, " ")
		rows = append(rows, row)
	}
	return rows
}
