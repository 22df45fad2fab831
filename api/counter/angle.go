package counter

import (
	"net/http"

	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/orderform"
)

func (s *room) postOrderFormAngle(c *web.Call) error {
	speech, tapes, err := asked(c, readTapes)
	if err != nil {
		return err
	}
	corner, err := tapes.Corner(speech)
	if err != nil {
		return err
	}
	return c.Send(http.StatusOK, func(w *wire.Writer) { writeTapedCorner(w, &tapes, &corner) })
}

func readTapes(o *wire.Object) orderform.Tapes {
	o.MeasuredIn(o.Text("units"))
	return orderform.Tapes{Units: o.Units(), First: o.Length("along_first"), Second: o.Length("along_second"),
		Across: o.Length("across")}
}

func writeTapedCorner(w *wire.Writer, t *orderform.Tapes, corner *orderform.TapedCorner) {
	w.Units = t.Units
	w.Open()
	w.Text("units", t.Units.String())
	w.Angle("angle", corner.Angle)
	w.Angle("tolerance", corner.Tolerance)
	w.Length("reading", corner.Reading)
	w.Text("text", corner.Text)
	w.Close()
}
