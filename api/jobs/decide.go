package jobs

import (
	"slices"
	"strconv"
	"strings"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/learning"
	"seamwright/service/sheet"
	"seamwright/store/shelf"
)

// offered is a proposal that can be decided, whatever it is for.
type offered struct {
	code, one string // of the proposal, and what it is for
	change    bool
	why       string
	jobs      int
	figure    string // what says which proposal it is, and its value
	value     float64
	edit      shelf.Edit // that takes it
}

// offered is the proposal of a code; a NotFound fault when no job tells of it.
func (l *learned) offered(code string, cat *catalogue.Snapshot, today catalogue.Date) (*offered, error) {
	for i := range l.proposals {
		if p := &l.proposals[i]; p.Code == code {
			return &offered{code, "standard", p.Change, p.Why, p.Evidence.Count, "factor", shownFactor(p.Factor),
				takingStandard(p)}, nil
		}
	}
	for i := range l.settings {
		if p := &l.settings[i]; p.Code == code {
			return &offered{code, "setting", p.Change, p.Why, p.Jobs, "after", p.After, takingSetting(p)}, nil
		}
	}
	for i := range l.prices {
		if p := &l.prices[i]; p.Code == code {
			return &offered{code, "price", p.Change, p.Why, p.Evidence.Count, "factor", shownFactor(p.Factor),
				takingPrice(p, cat.Settings.Currency, today)}, nil
		}
	}
	return nil, &fault.Fault{Kind: fault.NotFound, Detail: "No report tells of a standard, setting or price of that code."}
}

// number is a number as rows of the catalogue have it.
func number(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// changed is the fault of what is no more as it was when the proposal was made.
func changed(what string) error {
	return &fault.Fault{
		Kind:   fault.Conflict,
		Detail: "The " + what + " has been changed since the proposal was made.",
		Fix:    "Look at it again before you decide.",
	}
}

// taking is an edit that changes cells of one row, which must be in use and have the cells that it had.
func taking(part *sheet.Part, key string, cells [][3]string) shelf.Edit {
	return shelf.Edit{Part: part, Keys: []string{key},
		Decide: func(now map[string]shelf.Present) ([]shelf.Write, []sheet.Wrong, error) {
			present, there := now[key]
			if !there || !present.Live {
				return nil, nil, &fault.Fault{Kind: fault.NotFound, Detail: "There is no such " + part.One + " any more."}
			}
			row := sheet.Row{Part: present.Row.Part, Cells: slices.Clone(present.Row.Cells)}
			for _, v := range cells {
				if !sameNumber(row.Get(v[0]), v[1]) {
					return nil, nil, changed(part.One)
				}
				row.Set(v[0], v[2])
			}
			return []shelf.Write{{Row: row}}, nil, nil
		}}
}

func sameNumber(a, b string) bool {
	x, wrong := strconv.ParseFloat(a, 64)
	y, alsoWrong := strconv.ParseFloat(b, 64)
	return wrong == nil && alsoWrong == nil && x == y
}

// takingStandard writes a proposal into its standard.
func takingStandard(p *learning.Proposal) shelf.Edit {
	var cells [][3]string
	for _, v := range []struct {
		column  string
		was, is catalogue.Spread
	}{{"setup", p.SetupBefore, p.Setup}, {"each", p.EachBefore, p.Each}} {
		cells = append(cells, [][3]string{{v.column + "_low", number(v.was.Low), number(v.is.Low)},
			{v.column + "_likely", number(v.was.Likely), number(v.is.Likely)},
			{v.column + "_high", number(v.was.High), number(v.is.High)}}...)
	}
	return taking(sheet.LabourStandards, p.Code, cells)
}

// takingSetting writes a proposal into its setting.
func takingSetting(p *learning.Setting) shelf.Edit {
	return taking(sheet.Settings, p.Key, [][3]string{{"value", number(p.Before), number(p.After)}})
}

// takingPrice sets the price of today, by the supplier whose price is in force. It may move by more than a list may:
// whoever decides has seen what was paid.
func takingPrice(p *learning.Price, currency string, today catalogue.Date) shelf.Edit {
	key := func(day catalogue.Date) string {
		return strings.Join([]string{p.Item, p.Size.String(), p.Supplier, string(day)}, " ")
	}
	return shelf.Edit{Part: sheet.Prices, Keys: []string{key(today)}, AllowMoves: true,
		Decide: func(now map[string]shelf.Present) ([]shelf.Write, []sheet.Wrong, error) {
			was, there := now[key(p.ValidFrom)]
			_, newer := now[key(today)]
			if !there || newer && p.ValidFrom != today || !sameNumber(was.Row.Get("amount"), p.Before.String()) {
				return nil, nil, changed("price")
			}
			row := sheet.Row{Part: was.Row.Part, Cells: slices.Clone(was.Row.Cells)}
			row.Set("valid_from", string(today))
			row.Set("currency", currency)
			row.Set("amount", number(p.After.Float()))
			return []shelf.Write{{Row: row}}, nil, nil
		}}
}
