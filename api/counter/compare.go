package counter

import (
	"net/http"

	"seamwright/api/estimates"
	"seamwright/api/web"
	"seamwright/service/drawing/pen"
	"seamwright/service/fault"
	"seamwright/service/money"
	"seamwright/service/orderform"
)

// shownComparison is what a customer sees of the same top in other ways.
type shownComparison struct {
	Units    string          `json:"units"`
	Currency string          `json:"currency"`
	Of       string          `json:"of"`
	Choices  []shownCompared `json:"choices"`
}

type shownCompared struct {
	Value string        `json:"value"`
	Title string        `json:"title"`
	Yours bool          `json:"yours"`
	Price comparedPrice `json:"price"`
	Moves string        `json:"moves"`
	Days  *int          `json:"working_days"`
}

type comparedPrice struct {
	Total *money.Amount `json:"total"`
	From  money.Amount  `json:"from"`
	To    money.Amount  `json:"to"`
}

// postOrderFormComparison prices the customer's top beside the same one in the shop's other woods or thicknesses.
func (s *room) postOrderFormComparison(c *web.Call) error {
	speech, wanted, err := asked(c, readCustomer)
	if err != nil {
		return err
	}
	shown, err := s.comparison(c, &wanted, speech)
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, web.Value(shown))
}

// comparison works out the top and its others, each in a turn of its own and counted as a call of its own, so that it is
// no cheaper way to ask.
func (s *room) comparison(c *web.Call, wanted *orderform.Request, speech pen.Speech) (shownComparison, error) {
	form, err := orderform.New(c.Cat, wanted.Units, speech)
	if err != nil {
		return shownComparison{}, err
	}
	if err := form.Check(wanted); err != nil { // a wood that is not on offer would be taken for the first one
		return shownComparison{}, err
	}
	others := form.Others(wanted)
	tried := make([]orderform.Tried, len(others))
	for i, one := range others {
		if tried[i], err = s.tried(c, one, speech); err != nil && (i == 0 || !ofTheTop(err)) {
			return shownComparison{}, err
		}
	}
	return showComparison(form, form.Compare(others, tried, c.Cat)), nil
}

func showComparison(form *orderform.Form, list []orderform.Compared) shownComparison {
	shown := shownComparison{form.Units.String(), form.Currency, form.Compares, make([]shownCompared, len(list))}
	for i := range list {
		o := &list[i]
		shown.Choices[i] = shownCompared{o.Value, o.Title, o.Yours, comparedPrice{nil, o.From, o.To}, o.Moves, nil}
		if o.Exact {
			shown.Choices[i].Price.Total = &o.Total
		}
		if o.WorkingDays > 0 {
			shown.Choices[i].Days = &o.WorkingDays
		}
	}
	return shown
}

// tried works one of the tops out.
func (s *room) tried(c *web.Call, one orderform.Request, speech pen.Speech) (t orderform.Tried, err error) {
	done, err := s.inTurn(c, one, speech)
	if err != nil {
		return t, err
	}
	t.Estimate = done.est
	t.Order, err = estimates.OrderIn(done.order)
	return t, err
}

// ofTheTop reports whether all that is wrong is that such a top cannot be made.
func ofTheTop(err error) bool {
	for _, f := range fault.All(err) {
		if f.Kind != fault.Impossible && f.Kind != fault.Invalid {
			return false
		}
	}
	return true
}
