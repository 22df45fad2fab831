package lists

import (
	"bytes"
	"context"
	"io"
	"strconv"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/store/db"
)

// pricesInForce is what a supplier's packs cost when the list takes effect.
type pricesInForce struct {
	revision int64 // of the catalogue that they were read from
	known    *knownReader
	amounts  []int64 // by pack, in ten-thousandths; 0: none
	pers     []int32 // by pack, words
	words    wordTable
	gone     bytes.Buffer // prices of packs that are not on sale any more, as lines for the table of pairs
}

// pair holds what the list says against the prices in force and hands those that differ to the database. So a list of a
// million rows moves the few thousand that matter, not itself, and no join is needed.
//
// The prices were read beside the list. They still hold if the catalogue is the same: under the supplier's lock nobody
// else writes its prices, and who did before has raised the revision. Else they are read again.
func (w *taking) pair(ctx context.Context) error {
	revision, err := db.Revision(ctx, w.tx)
	if err != nil {
		return err
	}
	if w.inForce.revision != revision {
		if err := w.readInForce(ctx); err != nil {
			return err
		}
	}
	f := w.inForce
	w.inForce = nil // no longer needed, and large
	for _, lines := range []io.Reader{&packLines{known: f.known.knownItems, line: f.pairLine}, &f.gone} {
		if _, err := w.conn.PgConn().CopyFrom(ctx, lines, `COPY price_pair FROM STDIN`); err != nil {
			return err
		}
	}
	return nil
}

// readInForce reads the prices in force as the connection sees them now.
func (w *taking) readInForce(ctx context.Context) error {
	query, err := w.inForceQuery()
	if err != nil {
		return err
	}
	f := &pricesInForce{known: w.stage.known.reader()}
	f.amounts, f.pers = make([]int64, len(f.known.packs)), make([]int32, len(f.known.packs))
	f.words.number("")
	w.inForce = f
	return copyOut(ctx, w.conn, query, f.price)
}

// readBeside reads the prices in force, and of which revision they are, while the list is being read.
func (w *taking) readBeside(ctx context.Context) error {
	state := db.AsOfNow
	return pgx.BeginTxFunc(ctx, w.conn, state, func(tx pgx.Tx) error {
		revision, err := db.Revision(ctx, tx)
		if err != nil {
			return err
		}
		if err = w.readInForce(ctx); err == nil {
			w.inForce.revision = revision
		}
		return err
	})
}

// inForceQuery is the query for the prices in force, with its values in it: COPY takes no parameters.
func (w *taking) inForceQuery() (string, error) {
	supplier, err := w.conn.PgConn().EscapeString(w.list.Supplier)
	if err != nil {
		return "", err
	}
	if _, err := time.Parse(time.DateOnly, string(w.list.EffectiveFrom)); err != nil {
		return "", err
	}
	return strings.NewReplacer("$1", "'"+supplier+"'", "$2", "'"+string(w.list.EffectiveFrom)+"'").Replace(selectInForce), nil
}

func (f *pricesInForce) price(cells [][]byte) error {
	pack := f.known.packOf(cells[0], cells[1])
	if pack == noPack {
		writeCells(&f.gone, cells[0], cells[1], null, null, null, null, cells[2], cells[3])
		return nil
	}
	if !bytes.Equal(cells[3], null) {
		f.pers[pack] = f.words.of(cells[3])
	}
	var err error
	f.amounts[pack], err = parseTenThousandths(cells[2])
	return err
}

// pairLine writes the pair of a pack if it says anything that is not in force.
func (f *pricesInForce) pairLine(b []byte, pack int) []byte {
	k := f.known.knownItems
	p, before, per := &k.packs[pack], f.amounts[pack], f.words.at(f.pers[pack])
	switch {
	case p.line == 0 && before == 0:
		return b
	case p.line != 0 && p.hold == 0 && p.amount == before && (per == "" || per == k.words.at(p.per)):
		return b
	}
	b = append(k.appendPack(b, p), '\t')
	if p.line == 0 {
		b = append(b, `\N`+"\t"+`\N`+"\t"+`\N`+"\t"+`\N`...)
	} else {
		b = k.appendSaid(strconv.AppendInt(b, int64(p.line), 10), p)
	}
	if b = append(b, '\t'); before == 0 {
		return append(b, `\N`+"\t"+`\N`+"\n"...)
	}
	b = appendTenThousandths(b, before)
	return append(appendWord(append(b, '\t'), per), '\n')
}

// appendPack appends a pack's item and content.
func (k *knownItems) appendPack(b []byte, p *knownPack) []byte {
	b = append(append(b, k.code(p)...), '\t')
	return append(b, k.sizes.at(p.size)...)
}

// appendSaid appends what the list said of a pack: price, unit, and why the row must be held.
func (k *knownItems) appendSaid(b []byte, p *knownPack) []byte {
	b = appendTenThousandths(append(b, '\t'), p.amount)
	b = appendWord(append(b, '\t'), k.words.at(p.per))
	return appendWord(append(b, '\t'), k.words.at(p.hold))
}

func appendWord(b []byte, word string) []byte {
	if word == "" {
		return append(b, null...)
	}
	return append(b, word...)
}

// keepStage keeps all good rows of a list that is held whole.
func (w *taking) keepStage(ctx context.Context) error {
	k := w.stage.known.knownItems
	lines := &packLines{known: k, line: func(b []byte, pack int) []byte {
		p := &k.packs[pack]
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
	line  func(b []byte, pack int) []byte // appends the pack's line, or nothing
	next  int                             // pack
	buf   []byte                          // of which what stands from at on has not been read
	at    int
}

// Read gives the next lines.
func (l *packLines) Read(p []byte) (int, error) {
	if l.at == len(l.buf) {
		l.buf, l.at = l.buf[:0], 0
		for len(l.buf) < 60<<10 && l.next < len(l.known.packs) {
			l.buf = l.line(l.buf, l.next)
			l.next++
		}
		if len(l.buf) == 0 {
			return 0, io.EOF
		}
	}
	n := copy(p, l.buf[l.at:])
	l.at += n
	return n, nil
}
