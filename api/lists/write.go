package lists

import (
	"time"

	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/store/lists"
)

// Encode writes a report as POST /v1/price-updates answers it.
func Encode(u *lists.Update) []byte {
	return wire.Encode(measure.Millimetres, func(w *wire.Writer) { w.Tagged(shownReport(u)) })
}

// update is the report of a list as a list of them shows it; its beginning and its end, between which the whole report has more.
type update struct {
	begun
	ended
}

// report is a report with the first rows that were held or rejected, and with how the open offers stand.
type report struct {
	begun
	Undecided int     `json:"undecided"`
	FirstRows []row   `json:"first_rows"`
	Offers    *offers `json:"offers"`
	ended
}

type begun struct {
	ID            *string        `json:"id"`
	Supplier      string         `json:"supplier"`
	ListDate      catalogue.Date `json:"list_date"`
	EffectiveFrom catalogue.Date `json:"effective_from"`
	Currency      string         `json:"currency"`
	Status        lists.Status   `json:"status"`
	WouldBe       *lists.Status  `json:"would_be"`
	HeldBecause   []string       `json:"held_because"`
	Repeated      bool           `json:"repeated"`
	Understood    understood     `json:"understood"`
	Counts        lists.Counts   `json:"counts"`
	LargestMoves  []move         `json:"largest_moves"`
	Basket        []topEffect    `json:"basket"`
}

type ended struct {
	Revision  int64   `json:"revision"`
	CreatedAt string  `json:"created_at"`
	CreatedBy string  `json:"created_by"`
	DecidedAt *string `json:"decided_at"`
	DecidedBy *string `json:"decided_by"`
}

type understood struct {
	Format      string   `json:"format"`
	Sheet       *string  `json:"sheet"`
	Encoding    string   `json:"encoding"`
	Separator   *string  `json:"separator"`
	DecimalSign *string  `json:"decimal_sign"`
	Columns     []string `json:"columns"`
	Ignored     []string `json:"ignored"`
	Stated      []string `json:"stated"`
}

type offers struct {
	Checked   int64   `json:"checked"`
	Unchecked int64   `json:"unchecked"`
	Drifted   int64   `json:"drifted"`
	First     []offer `json:"first"`
}

type offer struct {
	Quote  string       `json:"quote"`
	Number int64        `json:"number"`
	Moved  wire.Literal `json:"moved"`
}

type move struct {
	Item    string       `json:"item"`
	Size    wire.Literal `json:"pack_size"`
	Before  string       `json:"before"`
	After   string       `json:"after"`
	Percent wire.Literal `json:"percent"`
	Held    bool         `json:"held"`
}

type topEffect struct {
	Reference  string       `json:"reference"`
	CostBefore *string      `json:"cost_before"`
	CostAfter  *string      `json:"cost_after"`
	Percent    wire.Literal `json:"percent"`
	Reason     *string      `json:"reason"`
}

// row is a row that was not simply taken.
type row struct {
	Line   int             `json:"line"`
	Status lists.RowStatus `json:"status"`
	Column *string         `json:"column"`
	Reason string          `json:"reason"`
	Found  *string         `json:"found"`
	Code   *string         `json:"code"`
	Item   *string         `json:"item"`
	Size   wire.Literal    `json:"pack_size"`
	Amount *string         `json:"amount"`
	Before *string         `json:"before"`
	Per    *string         `json:"per"`
}

func shownUpdate(u **lists.Update) update { return update{beginningOf(*u), endOf(*u)} }

func shownReport(u *lists.Update) report {
	return report{beginningOf(u), u.Undecided, wire.Shown(u.FirstRows, shownRow), shownOffers(u.Offers), endOf(u)}
}

func beginningOf(u *lists.Update) begun {
	x := &u.Understood
	return begun{wire.Maybe(u.ID), u.Supplier, u.ListDate, u.EffectiveFrom, u.Currency, u.Status, wire.Maybe(u.WouldBe),
		wire.Listed(u.HeldBecause), u.Repeated,
		understood{x.Format, wire.Maybe(x.Sheet), x.Encoding, wire.Maybe(x.Separator), wire.Maybe(x.DecimalSign), wire.Listed(x.Columns),
			wire.Listed(x.Ignored),
			wire.Listed(x.Stated)},
		u.Counts, wire.Shown(u.LargestMoves, shownMove), wire.Shown(u.Basket, shownEffect)}
}

func endOf(u *lists.Update) ended {
	var decided *time.Time
	if !u.DecidedAt.IsZero() {
		decided = &u.DecidedAt
	}
	return ended{u.Revision, wire.Moment(u.CreatedAt), u.CreatedBy, wire.MaybeMoment(decided), wire.Maybe(u.DecidedBy)}
}

func shownOffers(o *lists.Offers) *offers {
	if o == nil {
		return nil
	}
	return &offers{o.Checked, o.Unchecked, o.Drifted,
		wire.Shown(o.First, func(x *lists.Offer) offer { return offer{x.Quote, x.Number, wire.Literal(x.Moved)} })}
}

func shownMove(m *lists.Move) move {
	return move{m.Item, wire.Literal(m.Size), m.Before, m.After, wire.Literal(m.Percent), m.Held}
}

func shownEffect(e *lists.TopEffect) topEffect {
	return topEffect{e.Reference, wire.Maybe(e.CostBefore), wire.Maybe(e.CostAfter), wire.Literal(e.Percent),
		wire.Maybe(e.Reason)}
}

func shownRow(r *lists.Row) row {
	return row{r.Line, r.Status, wire.Maybe(r.Column), r.Reason, wire.Maybe(r.Found), wire.Maybe(r.Code),
		wire.Maybe(r.Item),
		wire.Literal(r.Size), wire.Maybe(r.Amount), wire.Maybe(r.Before), wire.Maybe(r.Per)}
}
