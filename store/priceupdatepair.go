package store

import (
	"bytes"
	"context"
	"strconv"
	"strings"
	"time"
)

// pair reads the prices in force, holds what the list says against them and hands those that differ back to the
// database. So a list of a million rows moves the few thousand that matter, not itself, and no join is needed.
func (w *priceWork) pair(ctx context.Context) error {
	inForce, err := w.inForce()
	if err != nil {
		return err
	}
	k := w.stage.known
	var gone bytes.Buffer // prices of packs that are not on sale any more, as lines for the table of pairs
	err = copyOut(ctx, w.conn, inForce, func(cells [][]byte) error {
		pack, err := k.packOf(cells[0], cells[1])
		if err != nil {
			return err
		}
		if pack == noPack {
			writeCells(&gone, cells[0], cells[1], null, null, null, null, cells[2], cells[3])
			return nil
		}
		p := &k.packs[pack]
		p.priced = true
		if !bytes.Equal(cells[3], null) {
			p.beforePer = k.words.of(cells[3])
		}
		p.before, err = parseTenThousandths(cells[2])
		return err
	})
	if err != nil {
		return err
	}
	lines := &packLines{known: k, line: k.pairLine}
	if _, err := w.conn.PgConn().CopyFrom(ctx, lines, `COPY price_pair FROM STDIN`); err != nil {
		return err
	}
	_, err = w.conn.PgConn().CopyFrom(ctx, &gone, `COPY price_pair FROM STDIN`)
	return err
}

// inForce is the query for the prices in force, with its values in it: COPY takes no parameters.
func (w *priceWork) inForce() (string, error) {
	supplier, err := w.conn.PgConn().EscapeString(w.list.Supplier)
	if err != nil {
		return "", err
	}
	if _, err := time.Parse(time.DateOnly, string(w.list.EffectiveFrom)); err != nil {
		return "", err
	}
	return strings.NewReplacer("$1", "'"+supplier+"'", "$2", "'"+string(w.list.EffectiveFrom)+"'").Replace(selectInForce), nil
}

// pairLine writes the pair of a pack if it says anything that is not in force.
func (k *knownItems) pairLine(b []byte, p *knownPack) []byte {
	switch {
	case p.line == 0 && !p.priced:
		return b
	case p.line != 0 && p.priced && p.hold == 0 && p.amount == p.before && (p.beforePer == 0 || p.beforePer == p.per):
		return b
	}
	b = k.appendPack(b, p)
	if p.line == 0 {
		b = append(b, "\t\\N\t\\N\t\\N\t\\N"...)
	} else {
		b = append(b, '\t')
		b = strconv.AppendInt(b, int64(p.line), 10)
		b = k.appendSaid(b, p)
	}
	if !p.priced {
		return append(b, "\t\\N\t\\N\n"...)
	}
	b = appendTenThousandths(append(b, '\t'), p.before)
	return append(k.appendWord(append(b, '\t'), p.beforePer), '\n')
}

// appendPack appends a pack's item and content.
func (k *knownItems) appendPack(b []byte, p *knownPack) []byte {
	b = append(append(b, k.code(p)...), '\t')
	return append(b, k.sizes.at(p.size)...)
}

// appendSaid appends what the list said of a pack: price, unit, and why the row must be held.
func (k *knownItems) appendSaid(b []byte, p *knownPack) []byte {
	b = appendTenThousandths(append(b, '\t'), p.amount)
	b = k.appendWord(append(b, '\t'), p.per)
	return k.appendWord(append(b, '\t'), p.hold)
}

func (k *knownItems) appendWord(b []byte, word int32) []byte {
	if word == 0 {
		return append(b, null...)
	}
	return append(b, k.words.at(word)...)
}

// keepStage keeps all good rows of a list that is held whole.
func (w *priceWork) keepStage(ctx context.Context) error {
	k := w.stage.known
	lines := &packLines{known: k, line: func(b []byte, p *knownPack) []byte {
		if p.line == 0 {
			return b
		}
		b = append(strconv.AppendInt(b, w.number, 10), '\t')
		b = append(strconv.AppendInt(b, int64(p.line), 10), '\t')
		return append(k.appendSaid(k.appendPack(b, p), p), '\n')
	}}
	_, err := w.conn.PgConn().CopyFrom(ctx, lines, `COPY price_update_staged (update_number, line, item, size, amount, listed_per, hold) FROM STDIN`)
	return err
}

// packLines is a reader of lines made of packs.
type packLines struct {
	known *knownItems
	line  func(b []byte, p *knownPack) []byte // appends the pack's line, or nothing
	next  int                                 // pack
	buf   []byte                              // of which what stands from at on has not been read
	at    int
}
