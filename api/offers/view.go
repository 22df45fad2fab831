package offers

import (
	"strings"

	"seamwright/api/estimates"
	"seamwright/api/show"
	"seamwright/api/web"
	"seamwright/service/catalogue"
	"seamwright/service/quote"
	"seamwright/store/offers"
)

// getQuoteView answers with a view of a revision of an offer, from the figures that were kept.
func (s *Room) getQuoteView(c *web.Call) error {
	o, err := estimates.ViewOptions(c)
	if err != nil {
		return err
	}
	q, err := s.Store.Offers.Quote(c.Ctx(), c.Param("id"))
	if err != nil {
		return err
	}
	r, err := s.Store.Offers.Revision(c.Ctx(), q.ID, c.Number("revision"))
	if err != nil {
		return err
	}
	subject, err := subjectOf(&q, &r, c.Cat)
	if err != nil {
		return err
	}
	return estimates.SendView(s.Server, c, c.Param("view"), subject, o)
}

// subjectOf is what the views of a revision show.
func subjectOf(q *offers.Quote, r *offers.Revision, cat *catalogue.Snapshot) (*show.Subject, error) {
	est, err := estimates.Read(r.Answer)
	if err != nil {
		return nil, err
	}
	made, err := web.ShopDay(r.CreatedAt, cat)
	return &show.Subject{Estimate: est, Shop: &cat.Settings.ShopSettings, Terms: q.Terms,
		Number: quote.Reference(q.Number), Revision: r.Number,
		Date: made, ValidUntil: q.ValidUntil, Reference: q.Customer.Reference,
		Customer: lines(q.Customer.Name, q.Customer.Address)}, err
}

// lines are the lines of some texts that are not empty.
func lines(texts ...string) (all []string) {
	for _, text := range texts {
		for line := range strings.SplitSeq(text, "\n") {
			if line = strings.TrimSpace(line); line != "" {
				all = append(all, line)
			}
		}
	}
	return all
}
