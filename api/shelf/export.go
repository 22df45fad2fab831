package shelf

import (
	"context"
	"encoding/csv"
	"errors"
	"net/http"
	"strconv"
	"strings"
	"time"

	"github.com/labstack/echo/v4"

	"seamwright/api/web"
	"seamwright/service/fault"
	"seamwright/service/sheet"
	"seamwright/store/shelf"
)

// mostExports is how many exports an instance sends at once: each keeps a connection to the database for as long as
// somebody reads.
const mostExports = 2

// getExport sends a part of the catalogue as CSV, straight from the database: nothing is gathered, so that its size
// does not matter. When the database fails on the way, the connection breaks and the file is visibly not whole.
func (s *room) getExport(c *web.Call) error {
	name, isCSV := strings.CutSuffix(c.Param("file"), ".csv")
	part := sheet.Find(name)
	if part == nil || !isCSV {
		return &fault.Fault{Kind: fault.NotFound, Detail: "There is no such export.",
			Fix: "There are: " + joinNames(".csv") + "."}
	}
	if !s.exporting.TryAcquire(1) {
		return web.Limited(c, 5*time.Second, "Other exports are being read.")
	}
	defer s.exporting.Release(1)
	out := &late{response: c.Response(), control: http.NewResponseController(c.Response()), file: part.Name + ".csv"}
	err := s.export(c.Ctx(), part, out)
	if err != nil && out.sent {
		panic(http.ErrAbortHandler) // the only way to say that the rest is missing
	}
	return err
}

func (s *room) export(ctx context.Context, part *sheet.Part, out *late) error {
	w := csv.NewWriter(out)
	if err := w.Write(part.Head()); err != nil {
		return err
	}
	if err := s.Store.Shelf.Export(ctx, part, func(p shelf.Present) error {
		return w.Write(p.Row.Record(strconv.FormatInt(p.Version, 10)))
	}); err != nil {
		return err
	}
	w.Flush()
	if err := w.Error(); err != nil {
		return err
	}
	return out.flush()
}

func joinNames(suffix string) string {
	var names []string
	for _, p := range sheet.Parts() {
		names = append(names, p.Name+suffix)
	}
	return strings.Join(names, ", ")
}

// late holds back the beginning of an answer, so that a database that is away can still be answered as a problem.
type late struct {
	response *echo.Response
	control  *http.ResponseController
	file     string
	held     []byte
	sent     bool
}

const heldBack = 64 << 10

func (l *late) Write(p []byte) (int, error) {
	if l.held = append(l.held, p...); len(l.held) >= heldBack {
		return len(p), l.flush()
	}
	return len(p), nil
}

func (l *late) flush() error {
	if !l.sent {
		header := l.response.Header()
		header.Set(echo.HeaderContentType, "text/csv; charset=utf-8")
		header.Set(echo.HeaderContentDisposition, `attachment; filename="`+l.file+`"`)
		header.Set("X-Content-Type-Options", "nosniff")
		l.response.WriteHeader(http.StatusOK)
		l.sent = true
	}
	// The limit is for each piece: a large file may take its time, a reader that takes nothing may not.
	if err := l.control.SetWriteDeadline(time.Now().Add(web.SlowReading)); err != nil &&
		!errors.Is(err, http.ErrNotSupported) {
		return errors.Join(web.ErrNotSent, err)
	}
	_, err := l.response.Write(l.held)
	l.held = l.held[:0]
	return err
}
