package lists

import (
	"context"
	"io"
	"strconv"

	"github.com/jackc/pgx/v5"

	"seamwright/store/db"
)

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
	query, err := inForceQuery(w.conn, w.list.Supplier, w.list.EffectiveFrom)
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
	_, err := w.conn.PgConn().CopyFrom(ctx, lines,
		`COPY price_update_staged (update_number, line, item, size, amount, listed_per, hold) FROM STDIN`)
	return err
}
