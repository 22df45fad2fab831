package diagnoses

import (
	"net/http"

	"seamwright/api/estimates"
	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/diagnosis"
	"seamwright/service/estimate"
	"seamwright/service/fault"
)

// Open adds the operation. Kept finds the estimates of offers.
func Open(w *web.Server, kept Kept) {
	s := &room{w, kept}
	s.Serve("POST /v1/diagnoses", s.postDiagnosis)
}

func (s *room) postDiagnosis(c *web.Call) error {
	var result *diagnosis.Answer
	err := c.Body(func(raw []byte) (err error) {
		result, err = s.diagnose(c, raw)
		return err
	})
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, func(w *wire.Writer) { w.Units = result.Units; write(w, result) })
}

// diagnose reads the body twice where a kept quote says in which units it was made.
func (s *room) diagnose(c *web.Call, raw []byte) (*diagnosis.Answer, error) {
	asked, err := wire.Bind(raw, c.Form, readAsked)
	if err != nil {
		return nil, err
	}
	est, err := s.estimate(c, &asked)
	if err != nil {
		return nil, err
	}
	question, err := wire.Bind(
		raw,
		c.Form,
		func(o *wire.Object) *diagnosis.Question { return readQuestion(o, est.Units) },
	)
	if err != nil {
		return nil, err
	}
	return diagnosis.Diagnose(est, question, c.Cat)
}

// estimate is that of the top: worked out now, or as it was kept with the quote.
func (s *room) estimate(c *web.Call, asked *asked) (est *estimate.Estimate, err error) {
	if asked.quote != "" == asked.there {
		return nil, &fault.Fault{Kind: fault.Impossible, Detail: "A top is named by an estimate or by a quote.",
			Fix: `Send either "estimate" or "quote".`}
	}
	if asked.quote != "" {
		est, err = s.kept(c.Ctx(), asked.quote, asked.revision)
		return est, fault.At("/quote", err)
	}
	now, err := web.InShop(s.Now(), c.Cat)
	if err != nil {
		return nil, err
	}
	err = s.InTurn(
		c.Ctx(),
		func() (err error) { est, err = estimates.Work(c.Ctx(), asked.order, c.Cat, now); return err },
	)
	return est, fault.At("/estimate", err)
}
