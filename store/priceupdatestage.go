package store

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"hash"
	"io"
	"strconv"
	"strings"

	"seamwright/service/money"
	"seamwright/service/pricelist"
	"seamwright/service/spell"
)

// mostRejected is how many rejected rows are kept; all are counted.
const mostRejected = 10_000

// mostHints is for how many unknown codes the nearest known ones are looked up.
const mostHints = 20

// priceStage turns the rows of a list into lines for COPY, on demand. It is an io.Reader and keeps of the list only
// what the report needs: counts, the first rejected rows and, for each pack of the catalogue, where it was listed.
type priceStage struct {
	list     *PriceList
	currency string // the catalogue's
	known    *knownItems

	rows, staged, duplicate, rejected int
	rejections                        []pricelist.Rejection
	conflicts                         []*knownPack
	hints                             int
	content                           []byte // hash over all rows, when all were read

	hash    hash.Hash
	row     pricelist.Row
	buf     []byte // lines, of which those from at on have not been read
	at      int
	scratch []byte
	end     error
}

const createStage = `
CREATE TEMP TABLE price_stage (
  line int NOT NULL, item text COLLATE "C" NOT NULL, size numeric(12, 4) NOT NULL, amount numeric(20, 4) NOT NULL,
  per text COLLATE "C" NOT NULL, hold text COLLATE "C")`

const copyStage = `COPY price_stage (line, item, size, amount, per, hold) FROM STDIN`

// markConflicts takes back the first rows about packs that got different prices later.
const markConflicts = `
UPDATE price_stage s SET hold = 'conflict'
FROM unnest($1::text[], $2::numeric[]) c (item, size)
WHERE s.item = c.item AND s.size = c.size`

// read reads the list into the staging table.
func (w *priceWork) read(ctx context.Context) error {
	known, err := readKnown(ctx, w.conn, w.list.Supplier)
	if err != nil {
		return err
	}
	w.stage = priceStage{list: w.list, currency: w.rails.currency, known: known, hash: sha256.New()}
	if _, err := w.conn.Exec(ctx, createStage); err != nil {
		return err
	}
	if _, err := w.conn.PgConn().CopyFrom(ctx, &w.stage, copyStage); err != nil {
		if w.stage.end != nil && !errors.Is(w.stage.end, io.EOF) {
			return w.stage.end // the list's own trouble, not the database's
		}
		return fmt.Errorf("stage the list: %w", err)
	}
	w.stage.hashHead()
	w.stage.content = w.stage.hash.Sum(nil)
	w.stage.known = nil // no longer needed, and large
	return w.markConflicts(ctx)
}

func (w *priceWork) markConflicts(ctx context.Context) error {
	if len(w.stage.conflicts) == 0 {
		return nil
	}
	items, sizes := make([]string, len(w.stage.conflicts)), make([]string, len(w.stage.conflicts))
	for i, p := range w.stage.conflicts {
		items[i], sizes[i] = p.item.code, p.size().String()
	}
	w.stage.conflicts = nil
	_, err := w.conn.Exec(ctx, markConflicts, items, sizes)
	return err
}

// Read gives the next lines of the staging table.
func (s *priceStage) Read(p []byte) (int, error) {
	if s.at == len(s.buf) {
		s.buf, s.at = s.buf[:0], 0
		for s.end == nil && len(s.buf) < 60<<10 {
			s.end = s.next()
		}
		if len(s.buf) == 0 {
			return 0, s.end
		}
	}
	n := copy(p, s.buf[s.at:])
	s.at += n
	return n, nil
}

// next reads a row, and writes its line if it has one.
func (s *priceStage) next() error {
	rejection, err := s.list.Rows.Next(&s.row)
	if err != nil {
		return err
	}
	s.rows++
	if rejection != nil {
		s.hashRow(strconv.Itoa(rejection.Line), rejection.Column, rejection.Reason, rejection.Text)
		s.reject(*rejection)
		return nil
	}
	r := &s.row
	s.hashRow(r.Article, r.Item, r.Price, r.Currency, string(r.Per), r.PackOf)
	pack, amount, rejection := s.resolve(r)
	if rejection != nil {
		s.reject(*rejection)
		return nil
	}
	s.add(pack, amount)
	return nil
}

// hashRow adds texts to the hash of the list, each with its end.
func (s *priceStage) hashRow(texts ...string) {
	b := s.scratch[:0]
	for _, t := range texts {
		b = append(append(b, t...), 0)
	}
	s.scratch = append(b, '\n')
	s.hash.Write(s.scratch)
}

// hashHead adds what holds for the whole list.
func (s *priceStage) hashHead() {
	s.hashRow("list", s.list.Currency, string(s.list.EffectiveFrom), string(s.list.Unit), strconv.Itoa(s.rows))
}

func (s *priceStage) reject(r pricelist.Rejection) {
	s.rejected++
	if len(s.rejections) < mostRejected {
		r.Text, r.Column = strings.Clone(r.Text), strings.Clone(r.Column) // they may lie in the reader's buffer
		s.rejections = append(s.rejections, r)
	}
}

// add writes the line of a good row, unless an earlier row spoke of the same pack: then it says the same, or both are
// rejected.
func (s *priceStage) add(p *knownPack, price money.UnitPrice) {
	amount, text := tenThousandths(price)
	switch {
	case p.line == 0:
		p.line, p.amount = int32(s.row.Line), amount
		s.staged++
		s.write(p, text, s.hold(amount))
	case !p.conflict && p.amount == amount:
		s.duplicate++
	case p.conflict:
		s.rejectTwin(p, s.row.Line)
	default:
		p.conflict = true
		s.staged--
		s.conflicts = append(s.conflicts, p)
		s.reject(twin(int(p.line), s.row.Line, p))
		s.rejectTwin(p, s.row.Line)
	}
}

func (s *priceStage) rejectTwin(p *knownPack, line int) {
	s.reject(twin(line, int(p.line), p))
}

func twin(line, other int, p *knownPack) pricelist.Rejection {
	return pricelist.Rejection{Line: line, Column: "price", Text: p.item.code,
		Reason: fmt.Sprintf("this row and the one in line %d give the pack of %s of %s different prices; none of them is taken", other, p.size(), p.item.code)}
}

// hold says why a row must be held whatever the catalogue has; empty: it need not.
func (s *priceStage) hold(amount int64) string {
	switch {
	case amount == 0:
		return "zero"
	case amount < 0:
		return "negative"
	case s.row.Currency != "" && s.row.Currency != s.currency:
		return "currency " + s.row.Currency
	}
	return ""
}

// write appends a line in COPY's text format. Codes, units and numbers hold nothing that must be escaped.
func (s *priceStage) write(p *knownPack, amount, hold string) {
	b := strconv.AppendInt(s.buf, int64(s.row.Line), 10)
	b = append(append(b, '\t'), p.item.code...)
	b = append(append(b, '\t'), p.size().String()...)
	b = append(append(b, '\t'), amount...)
	b = append(append(b, '\t'), s.per(p)...)
	if b = append(b, '\t'); hold == "" {
		b = append(b, `\N`...)
	} else {
		b = append(b, hold...)
	}
	s.buf = append(b, '\n')
}

// per is the unit that the list gives the price for; an unnamed one is the item's own.
func (s *priceStage) per(p *knownPack) string {
	if s.row.Per == "" {
		return string(p.item.own.Unit)
	}
	return string(s.row.Per)
}

// tenThousandths returns a price rounded to four decimals, half away from zero, as the database keeps it, and as text.
func tenThousandths(p money.UnitPrice) (int64, string) {
	text := p.String()
	n, err := strconv.ParseInt(strings.Replace(text, ".", "", 1), 10, 64)
	if err != nil {
		return 0, "0" // cannot be: resolve bounds prices
	}
	return n, text
}

// hint asks about known codes near an unknown one, for the first few.
func (s *priceStage) hint(code string) string {
	if s.hints++; s.hints > mostHints || len(code) > 64 {
		return ""
	}
	near := spell.Closest(strings.ToLower(code), s.known.codes, 2)
	if len(near) == 0 {
		return ""
	}
	return "; did you mean " + strings.Join(near, " or ") + "?"
}
