package summary

import (
	"fmt"
	"io"
	"strings"

	"seamwright/store/lists"
)

// statusWords say what became of a list.
var statusWords = map[lists.Status]string{
	lists.Applied:   "applied",
	lists.Unchanged: "nothing new: every price was known",
	lists.Held:      "HELD: nothing was applied, the whole list waits for a decision",
	lists.Dismissed: "dismissed",
	lists.DryRun:    "dry run: nothing was changed",
}

// unwrapped is wider than any line.
const unwrapped = 1 << 16

// WritePrices prints the report of a price list, a line for a thing: it may go into a log. It returns the writer's error.
func WritePrices(w io.Writer, u *lists.Update) error {
	p := &printer{columns: unwrapped}
	p.line("Price list of %s dated %s, from %s on: %s", u.Supplier, u.ListDate, u.EffectiveFrom, statusWords[u.Status])
	if u.Repeated {
		p.line("This list had been taken before; nothing was changed this time. What follows is the report of then.")
	}
	if u.Repeated && !u.Whole() {
		p.line("Not all of it was taken. With --replace it is read anew, with the articles that are known since.")
	}
	if u.WouldBe != "" {
		p.line("Without --dry-run: %s", statusWords[u.WouldBe])
	}
	for _, why := range u.HeldBecause {
		p.line("  held because %s", why)
	}
	if u.ID != "" {
		p.line("id %s, catalogue revision %d", u.ID, u.Revision)
	}
	d := &u.Understood
	read := []string{d.Format, d.Encoding}
	if d.Sheet != "" {
		read = append(read, fmt.Sprintf("sheet %q", d.Sheet))
	}
	if d.Separator != "" {
		read = append(read, fmt.Sprintf("separator %q", d.Separator))
	}
	if d.DecimalSign != "" {
		read = append(read, fmt.Sprintf("decimal sign %q", d.DecimalSign))
	}
	p.line("read as %s", strings.Join(read, ", "))
	if len(d.Ignored) > 0 {
		p.line("columns not used: %s", strings.Join(d.Ignored, ", "))
	}
	c := &u.Counts
	p.line("%d rows: %d new, %d changed, %d unchanged, %d said twice, %d held, %d rejected; %d prices of the list before are missing",
		c.Rows, c.New, c.Changed, c.Unchanged, c.Duplicate, c.Held, c.Rejected, c.Missing)
	p.moves(u)
	p.basket(u)
	p.offers(u.Offers)
	p.firstRows(u)
	_, err := io.WriteString(w, p.b.String())
	return err
}

func (p *printer) moves(u *lists.Update) {
	if len(u.LargestMoves) == 0 {
		return
	}
	rows := [][]string{{"largest moves", "pack", "before", "after", "%", ""}}
	for _, m := range u.LargestMoves {
		held := ""
		if m.Held {
			held = "held"
		}
		rows = append(rows, []string{m.Item, m.Size, m.Before, m.After, m.Percent, held})
	}
	p.table(rows...)
}

func (p *printer) basket(u *lists.Update) {
	if len(u.Basket) == 0 {
		return
	}
	rows := [][]string{{"reference top", "cost before", "after", "%"}}
	for _, t := range u.Basket {
		if t.Reason != "" {
			rows = append(rows, []string{t.Reference, t.Reason})
			continue
		}
		rows = append(rows, []string{t.Reference, t.CostBefore, t.CostAfter, t.Percent})
	}
	p.table(rows...)
}

func (p *printer) offers(o *lists.Offers) {
	if o == nil || o.Checked+o.Unchecked == 0 {
		return
	}
	p.line("open offers: %d still to be worked out anew, %d done, %d of these moved beyond the limit", o.Unchecked,
		o.Checked, o.Drifted)
	const shown = 20
	for _, one := range o.First[:min(shown, len(o.First))] {
		p.line("  offer %d moved by %s %%", one.Number, one.Moved)
	}
	if more := o.Drifted - shown; more > 0 {
		p.line("  and %d more", more)
	}
}

func (p *printer) firstRows(u *lists.Update) {
	if len(u.FirstRows) == 0 {
		return
	}
	rows := [][]string{{"line", "", "column", "why", "found"}}
	for _, r := range u.FirstRows {
		rows = append(rows, []string{fmt.Sprint(r.Line), string(r.Status), r.Column, r.Reason, r.Found})
	}
	p.table(rows...)
	if more := u.Counts.Held + u.Counts.Rejected - len(u.FirstRows); more > 0 {
		p.line("  … and %d more", more)
	}
}
