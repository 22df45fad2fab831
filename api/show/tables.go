package show

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"seamwright/service/measure"
	"seamwright/service/sheet"
)

// Table writes rows as CSV (RFC 4180). Text that a spreadsheet would run as a formula gets an apostrophe before it.
func Table(rows [][]string) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	for _, row := range rows {
		for i := range row {
			row[i] = sheet.Guard(row[i])
		}
		if err := w.Write(row); err != nil {
			return nil, err
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

func bill(s *Subject, _ Options) ([]byte, error) {
	rows := [][]string{{"line", "item", "kind", "description", "need", "buy", "unit", "pack", "unit_price", "amount",
		"currency", "supplier", "price_from"}}
	for i := range s.Estimate.Bill {
		l := &s.Estimate.Bill[i]
		pack := ""
		if l.Packs > 0 {
			pack = l.PackSize.String()
		}
		rows = append(rows, []string{strconv.Itoa(l.Line), l.Item, string(l.Kind), l.Description, l.Need.String(),
			l.Buy.String(), string(l.Unit), pack,
			l.UnitPrice.String(), l.Amount.String(), s.Estimate.Currency, l.Supplier, string(l.ValidFrom)})
	}
	return Table(rows)
}

// pieces lists the pieces with their blanks: every length as a maker reads it, and further on as a decimal number.
func pieces(s *Subject, _ Options) ([]byte, error) {
	unit := s.Estimate.Units
	rows := [][]string{{"piece", "species", "sawn", "wall_edge", "front_edge", "depth", "thickness", "start_angle",
		"end_angle", "blank_length", "blank_width", "rough_thickness", "staves", "stave_width", "stave_length", "unit",
		"wall_edge_decimal", "front_edge_decimal", "long_edge_decimal", "depth_decimal", "thickness_decimal",
		"blank_length_decimal", "blank_width_decimal", "rough_thickness_decimal", "stave_width_decimal",
		"stave_finished_decimal", "stave_length_decimal", "cutouts"}}
	for i := range s.Estimate.Runs {
		r := &s.Estimate.Runs[i]
		b := &r.Blank
		rough, width, length := "", "", ""
		staves := []string{"", "", "", ""}
		if b.Staves > 0 {
			rough, width, length = b.Rough.Text(unit), b.StaveRip.Text(unit), b.StaveLength.Text(unit)
			staves = decimals(unit, b.Rough, b.StaveRip, b.StaveWidth, b.StaveLength)
		}
		row := []string{r.Name, r.Species, string(r.Sawn), r.Piece.WallEdge.Text(unit), r.Piece.FrontEdge.Text(unit),
			r.Depth.Text(unit), s.Estimate.Made.Thickness.Text(unit),
			r.Piece.StartAngle.Text(), r.Piece.EndAngle.Text(), b.Length.Text(unit), b.Width.Text(unit), rough,
			strconv.Itoa(b.Staves), width, length, unit.String()}
		row = append(row, decimals(unit, r.Piece.WallEdge, r.Piece.FrontEdge, r.Piece.LongEdge, r.Depth,
			s.Estimate.Made.Thickness, b.Length, b.Width)...)
		holes := 0
		for k := range s.Estimate.Cutouts {
			if s.Estimate.Cutouts[k].Run == r.Name {
				holes++
			}
		}
		rows = append(rows, append(append(row, staves...), strconv.Itoa(holes)))
	}
	return Table(rows)
}

func work(s *Subject, _ Options) ([]byte, error) {
	rows := [][]string{{"step", "code", "name", "role", "crew", "minutes_low", "minutes_likely", "minutes_high",
		"minutes_expected", "wait_hours", "after", "day", "rate", "amount", "currency", "note"}}
	minutes := func(x float64) string { return strconv.FormatFloat(x, 'f', 1, 64) }
	for i := range s.Estimate.Labour.Steps {
		t := &s.Estimate.Labour.Steps[i]
		rows = append(rows, []string{strconv.Itoa(t.Number), t.Code, t.Name, t.Role, strconv.Itoa(t.Crew),
			minutes(t.Minutes.Low), minutes(t.Minutes.Likely), minutes(t.Minutes.High), minutes(t.Minutes.Expected),
			strconv.FormatFloat(t.WaitHours, 'f', -1, 64), strings.Trim(fmt.Sprint(t.After), "[]"), strconv.Itoa(t.Day),
			t.Rate.String(), t.Amount.String(), s.Estimate.Currency, t.Note})
	}
	return Table(rows)
}

// cuts lists the cutting plan: a row for each stave, for what is left of each strip, and for each board that is spare.
func cuts(s *Subject, _ Options) ([]byte, error) {
	unit := s.Estimate.Units
	rows := [][]string{{"board", "material", "board_length", "board_length_text", "board_least_width",
		"board_least_width_text", "strip", "cut", "is", "piece", "stave", "rip", "rip_text", "from", "from_text", "length",
		"length_text", "unit"}}
	both := func(l measure.Length, size measure.Size) []string {
		if l <= 0 {
			return []string{"", ""}
		}
		return []string{decimals(unit, l)[0], l.TextAs(unit, size)}
	}
	for i, list := range s.Estimate.Sawing() {
		w := &s.Estimate.Lumber[i]
		for n := range list {
			b := &list[n]
			head := append([]string{strconv.Itoa(b.Number), b.Material},
				append(both(b.Length, measure.Measured), both(b.LeastWidth(w), measure.Least)...)...)
			add := func(strip, cut int, is, piece string, stave int, rip, from, length measure.Length) {
				row := append(slices.Clone(head), orNone(strip), orNone(cut), is, piece, orNone(stave))
				row = append(append(row, both(rip, measure.Measured)...), decimals(unit, from)[0], from.Text(unit))
				rows = append(rows, append(append(row, both(length, measure.Measured)...), unit.String()))
			}
			if b.Spare {
				add(0, 0, "spare", "", 0, 0, 0, b.Length)
			}
			for k := range b.Strips {
				strip := &b.Strips[k]
				for c, one := range strip.Staves {
					is := "stave"
					if one.Number == 0 {
						is = "blank"
					}
					add(k+1, c+1, is, one.Run, one.Number, one.Rip, one.From, one.Length)
				}
				if strip.Leftover > 0 {
					is := "waste"
					if strip.Keep {
						is = "offcut"
					}
					add(k+1, len(strip.Staves)+1, is, "", 0, strip.Rip, b.Length-strip.Leftover, strip.Leftover)
				}
			}
		}
	}
	return Table(rows)
}
