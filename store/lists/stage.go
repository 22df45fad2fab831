package lists

import (
	"errors"
	"fmt"
	"hash"
	"io"
	"strconv"
	"strings"

	"seamwright/service/money"
	"seamwright/service/pricelist"
	"seamwright/store/db"
)

// mostRejected is how many rejected rows are kept; all are counted.
const mostRejected = 10_000

// stage is the rows of a list as they were read. It keeps what the report needs: counts, the first rejected rows
// and, with each pack of the catalogue, what the list says of it.
type stage struct {
	resolver
	list     *List
	currency string // the catalogue's

	rows, staged, duplicate, rejected int
	rejections                        []pricelist.Rejection
	content                           []byte // hash over all rows, when all were read

	hash    hash.Hash
	row     pricelist.Row
	scratch []byte
}

// read reads all rows.
func (s *stage) read() error {
	err := s.next()
	for ; err == nil; err = s.next() {
		if s.rows%db.Breath == 0 {
			if err := s.ctx.Err(); err != nil {
				return err
			}
			db.GiveWay(s.ctx)
		}
	}
	if !errors.Is(err, io.EOF) {
		return err
	}
	s.hashHead()
	s.flush()
	s.content = s.hash.Sum(nil)
	s.hintable = nil // no longer needed, and large
	return nil
}

// next reads a row.
func (s *stage) next() error {
	rejection, err := s.list.Rows.Next(&s.row)
	if err != nil {
		return err
	}
	s.rows++
	if rejection != nil {
		s.hashRow(strconv.Itoa(rejection.Line), rejection.Column, rejection.Reason, rejection.Text)
		s.reject(rejection)
		return nil
	}
	r := &s.row
	s.hashRow(r.Article, r.Item, r.Price, r.Currency, string(r.Per), r.PackOf)
	pack, price, rejection, err := s.resolve(r)
	switch {
	case err != nil:
		return err
	case rejection != nil:
		s.reject(rejection)
	default:
		s.add(pack, tenThousandths(price))
	}
	return nil
}

// hashRow adds texts to the hash of the list, each with its end.
func (s *stage) hashRow(texts ...string) {
	b := s.scratch
	for _, t := range texts {
		b = append(append(b, t...), 0)
	}
	s.scratch = append(b, '\n')
	if len(s.scratch) > 4<<10 {
		s.flush()
	}
}

// flush puts into the hash what waits for it.
func (s *stage) flush() {
	s.hash.Write(s.scratch)
	s.scratch = s.scratch[:0]
}

// hashHead adds what holds for the whole list.
func (s *stage) hashHead() {
	s.hashRow("list", s.list.Currency, string(s.list.EffectiveFrom), string(s.list.Unit), strconv.Itoa(s.rows))
}

func (s *stage) reject(r *pricelist.Rejection) {
	s.rejected++
	if len(s.rejections) < mostRejected {
		kept := *r
		if s.list.Cell != nil && r.Column != "" {
			if at := s.list.Cell(r.Line, r.Column); at != "" {
				kept.Reason = at + ": " + r.Reason
			}
		}
		kept.Text, kept.Column = strings.Clone(r.Text), strings.Clone(r.Column) // they may lie in the reader's buffer
		s.rejections = append(s.rejections, kept)
	}
}

// add notes a good row, unless an earlier row spoke of the same pack: then it says the same, or both are rejected.
func (s *stage) add(p *knownPack, amount int64) {
	switch {
	case p.line == 0:
		p.line, p.amount, p.per, p.hold = int32(s.row.Line), amount, s.per(p), s.hold(amount)
		s.staged++
	case !p.conflict && p.amount == amount:
		s.duplicate++
	case p.conflict:
		s.reject(s.twin(s.row.Line, int(p.line), p))
	default:
		p.conflict, p.hold = true, s.known.words.number("conflict")
		s.staged--
		s.reject(s.twin(int(p.line), s.row.Line, p))
		s.reject(s.twin(s.row.Line, int(p.line), p))
	}
}

func (s *stage) twin(line, other int, p *knownPack) *pricelist.Rejection {
	code := s.known.code(p)
	return &pricelist.Rejection{Line: line, Column: "price", Text: code,
		Reason: fmt.Sprintf("this row and the one in line %d give the pack of %s of %s different prices; none of them is taken", other, s.known.content(p), code)}
}

// hold says why a row must be held whatever the catalogue has; the empty word: it need not.
func (s *stage) hold(amount int64) int32 {
	switch {
	case amount == 0:
		return s.known.words.number("zero")
	case amount < 0:
		return s.known.words.number("negative")
	case s.row.Currency != "" && s.row.Currency != s.currency:
		return s.known.words.number("currency " + s.row.Currency)
	}
	return 0
}

// per is the unit that the list gives the price for; an unnamed one is the item's own.
func (s *stage) per(p *knownPack) int32 {
	if s.row.Per == "" {
		return s.known.items[p.item].unit
	}
	return s.known.words.number(string(s.row.Per))
}

// tenThousandths returns a price of the database, with at most four decimals.
func tenThousandths(p money.UnitPrice) int64 {
	n, _ := p.Millionths() // Convert bounds prices
	return n / 100
}
