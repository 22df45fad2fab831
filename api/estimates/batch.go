package estimates

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"mime"
	"net/http"
	"runtime/debug"
	"sync"
	"time"

	"github.com/labstack/echo/v4"

	"seamwright/api/body"
	"seamwright/api/web"
	"seamwright/api/wire"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
)

const (
	mimeLines = "application/x-ndjson"
	mostLines = 100_000
	inFlight  = 16 // lines of one batch that are read and not yet sent
)

// batch is one stream of requests on its way to a stream of answers. Every line is worked out from one catalogue and
// one time.
type batch struct {
	room     *room
	cat      *catalogue.Snapshot
	now      time.Time
	instance string
	explain  bool
	summary  bool
	lines    *bufio.Reader
	limit    int // longest line in bytes
	most     int // lines

	order chan *batchLine // in the order of the body; its room bounds the lines in flight
	work  chan *batchLine
	total int   // blank lines not counted; the reader's until order is closed
	ended error // why the reading ended before the end of the body; likewise
}

// batchLine is one line and, once done is closed, its answer.
type batchLine struct {
	number int // of the line in the body, from 1
	raw    []byte
	tooBig bool
	answer []byte
	failed bool
	done   chan struct{}
}

// postBatch answers each line of the body with a line, in order, while the body is still coming in. A caller that
// takes its answers slowly is read slowly.
func (s *room) postBatch(c *web.Call) error {
	b := &batch{room: s, cat: c.Cat, explain: c.Flag("explain"), summary: c.Summary(), now: s.Now(),
		limit: int(s.BodyLimit), most: mostLines, order: make(chan *batchLine, inFlight), work: make(chan *batchLine)}
	if err := areLines(c.Request().Header); err != nil {
		return err
	}
	b.instance = web.InstanceOf(c)
	return b.run(c)
}

// areLines refuses a body that is not declared as plain lines of JSON.
func areLines(header http.Header) error {
	declared := header.Get(echo.HeaderContentType)
	if kind, _, err := mime.ParseMediaType(declared); err != nil || kind != mimeLines {
		return web.Refuse(web.UnsupportedMedia, fmt.Sprintf("The Content-Type is %q; send one request a line as %s.",
			fault.Cut(declared, 100), mimeLines))
	}
	return nil
}

func (b *batch) run(c *web.Call) error {
	control := http.NewResponseController(c.Response())
	// Answers go out while the body comes in. A server that cannot, such as one in a test, has the whole body already.
	if err := control.EnableFullDuplex(); err != nil && !errors.Is(err, http.ErrNotSupported) {
		return fmt.Errorf("answer while reading: %w", err)
	}
	leave, detail := b.room.batches.enter(web.CallerOf(c).ID)
	if leave == nil {
		return web.Limited(c, 5*time.Second, detail)
	}
	defer leave()
	ctx, cancel := context.WithCancel(c.Ctx()) // which ends after web.Patience
	defer cancel()
	most := int64(b.limit) * int64(b.most)
	body, closing, err := web.Expand(c, web.NewStream(c.Request().Body, most, b.tooMany(), control), most, b.tooMany())
	if err != nil {
		return err
	}
	defer closing()
	b.lines = bufio.NewReaderSize(body, 64<<10)
	web.Stream(ctx)
	var busy sync.WaitGroup
	busy.Go(func() { b.read(ctx) })
	for range b.room.Cores {
		busy.Go(func() { b.reckon(ctx) })
	}
	err = b.write(ctx, c.Response(), control)
	if err != nil {
		cancel()
		// A reader that waits for a silent sender is woken; where that cannot be done, the body is in memory.
		_ = control.SetReadDeadline(time.Now())
		for range b.order { // lets the reader find room, and end
		}
	}
	busy.Wait()
	return err
}

// read takes the body apart and hands its lines on, as far as there is room.
func (b *batch) read(ctx context.Context) {
	defer close(b.order)
	defer close(b.work)
	for number := 1; ; number++ {
		if ctx.Err() != nil {
			b.ended = tooLong(ctx)
			return
		}
		raw, tooBig, err := b.line()
		if number == 1 {
			raw = bytes.TrimPrefix(raw, []byte("\xef\xbb\xbf"))
		}
		if raw = bytes.TrimSpace(raw); (len(raw) > 0 || tooBig) && (err == nil || errors.Is(err, io.EOF)) {
			if b.total == b.most {
				b.ended = b.tooMany()
				return
			}
			b.total++
			l := &batchLine{number: number, raw: raw, tooBig: tooBig, done: make(chan struct{})}
			select {
			case b.order <- l:
			case <-ctx.Done():
				b.total--
				b.ended = tooLong(ctx)
				return
			}
			b.work <- l // workers end only after this channel is closed
		}
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			b.ended = web.AsBody(err, "The body ended before all of it had arrived.")
			return
		}
	}
}

func (b *batch) tooMany() error {
	return web.Refuse(web.TooLarge, fmt.Sprintf("A batch may have at most %d lines; send the rest in another one.",
		b.most))
}

func tooLong(ctx context.Context) error {
	if errors.Is(ctx.Err(), context.DeadlineExceeded) {
		return &fault.Fault{Kind: fault.Unavailable,
			Detail: fmt.Sprintf("The batch took more than %s; send the rest in another one.", web.Patience)}
	}
	return ctx.Err()
}

// line reads up to the next line feed. What is over the limit is passed over, not kept.
func (b *batch) line() (raw []byte, tooBig bool, err error) {
	for {
		part, err := b.lines.ReadSlice('\n')
		if tooBig = tooBig || len(raw)+len(bytes.TrimRight(part, "\r\n")) > b.limit; tooBig {
			raw = nil
		} else {
			raw = append(raw, part...)
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			return raw, tooBig, err
		}
	}
}

func (b *batch) reckon(ctx context.Context) {
	for l := range b.work {
		if web.Pace(ctx) == nil && b.room.batches.lines.Acquire(ctx, 1) == nil {
			b.answer(ctx, l)
			b.room.batches.lines.Release(1)
		} else {
			b.fail(l, tooLong(ctx))
		}
		l.raw = nil
		close(l.done)
	}
}

// answer works out one line. Whatever goes wrong is the line's own affair.
func (b *batch) answer(ctx context.Context, l *batchLine) {
	defer func() {
		if what := recover(); what != nil {
			b.fail(l, fmt.Errorf("panic: %v\n%s", what, debug.Stack()))
		}
	}()
	if l.tooBig {
		b.fail(l, web.Refuse(web.TooLarge, fmt.Sprintf("A line may have at most %d bytes.", b.limit)))
		return
	}
	est, err := MakeFor(ctx, l.raw, b.cat, b.now, b.explain)
	if err != nil {
		b.fail(l, err)
		return
	}
	w := wire.NewWriter(est.Units)
	defer w.Free()
	w.Open()
	w.Int("line", int64(l.number))
	w.Int("status", http.StatusOK)
	w.Key("estimate")
	if b.summary {
		writeEstimateSummary(w, est)
	} else {
		write(w, est)
	}
	w.Close()
	l.answer = append(append(make([]byte, 0, len(w.Buf)+1), w.Buf...), '\n')
}

func (b *batch) fail(l *batchLine, err error) {
	p := b.problem(err)
	l.failed = true
	l.answer = b.encode(struct {
		Line      int         `json:"line"`
		Reference string      `json:"reference,omitempty"`
		Status    int         `json:"status"`
		Problem   web.Problem `json:"problem"`
	}{l.number, referenceOf(l.raw), p.Status, p})
}

func (b *batch) problem(err error) web.Problem {
	p := web.ProblemOf(err)
	p.Instance = b.instance
	if p.Status == http.StatusInternalServerError {
		b.room.Log.Error("line of a batch failed", slog.String("cause", err.Error()))
	}
	return p
}

// encode writes a line.
func (b *batch) encode(value any) []byte {
	raw, err := json.Marshal(value)
	if err != nil { // cannot be: the types have nothing that JSON cannot say
		b.room.Log.Error("line of a batch not written", slog.String("cause", err.Error()))
	}
	return append(raw, '\n')
}

// referenceOf is the caller's own name of a top, when the line can be read so far.
func referenceOf(raw []byte) string {
	value, err := body.Parse(raw)
	if err != nil {
		return ""
	}
	fields, _ := value.(map[string]any)
	text, _ := fields["reference"].(string)
	return fault.Cut(text, 200)
}

// write sends the answers in order, and at the end a line that says that all have come.
func (b *batch) write(ctx context.Context, to *echo.Response, control *http.ResponseController) error {
	to.Header().Set(echo.HeaderContentType, mimeLines)
	to.WriteHeader(http.StatusOK)
	out := bufio.NewWriterSize(to, 64<<10)
	failed := 0
	flush := func() error {
		if err := out.Flush(); err != nil {
			return errors.Join(web.ErrNotSent, err)
		}
		if err := control.Flush(); err != nil && !errors.Is(err, http.ErrNotSupported) {
			return errors.Join(web.ErrNotSent, err)
		}
		return nil
	}
	send := func(raw []byte) error {
		// The limit is for each piece: a long stream may take its time, a reader that takes nothing may not.
		if err := control.SetWriteDeadline(time.Now().Add(web.SlowReading)); err != nil &&
			!errors.Is(err, http.ErrNotSupported) {
			return errors.Join(web.ErrNotSent, err)
		}
		if _, err := out.Write(raw); err != nil {
			return errors.Join(web.ErrNotSent, err)
		}
		return nil
	}
	for l := range b.order {
		<-l.done
		if ctx.Err() != nil && !errors.Is(ctx.Err(), context.DeadlineExceeded) {
			return errors.Join(web.ErrNotSent, ctx.Err())
		}
		if l.failed {
			failed++
		}
		if err := send(l.answer); err != nil {
			return err
		}
		if len(b.order) == 0 {
			if err := flush(); err != nil {
				return err
			}
		}
	}
	end := struct {
		Done    bool         `json:"done"`
		Lines   int          `json:"lines"`
		Failed  int          `json:"failed"`
		Problem *web.Problem `json:"problem,omitempty"`
	}{Done: b.ended == nil, Lines: b.total, Failed: failed}
	if b.ended != nil {
		p := b.problem(b.ended)
		end.Problem = &p
	}
	if err := send(b.encode(end)); err != nil {
		return err
	}
	return flush()
}
