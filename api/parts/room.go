// Package parts works out parts of an estimate that are asked by themselves, a file each.
package parts

import (
	"net/http"

	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/catalogue"
)

type room struct{ *web.Server }

// Open adds the operations about parts of an estimate.
func Open(w *web.Server) {
	s := &room{w}
	s.Serve("POST /v1/conditionings", s.postConditioning)
	s.Serve("POST /v1/deflections", s.postDeflection)
	s.Serve("POST /v1/lifts", s.postLift)
	s.Serve("POST /v1/passages", s.postPassage)
	s.Serve("POST /v1/seasons", s.postSeasons)
}

// answer reads an order, works it out from the catalogue and writes what comes of it, in the units that it writes first.
func answer[Order, Answer any](
	c *web.Call,
	read func(o *wire.Object, explain bool) Order,
	work func(Order, *catalogue.Snapshot) (*Answer, error),
	write func(*wire.Writer, *Answer),
) error {
	order, err := web.Read(c, func(o *wire.Object) Order { return read(o, c.Flag("explain")) })
	if err != nil {
		return err
	}
	result, err := work(order, c.Cat)
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, func(w *wire.Writer) { write(w, result) })
}
