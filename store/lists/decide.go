package lists

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/service/fault"
	"seamwright/store/db"
)

// Decision is what somebody decides about a held list or held rows.
type Decision struct {
	ID      string
	Approve bool  // else they are dismissed
	Lines   []int // of held rows; none: all that is held, the list itself as well
	By      string
	Now     time.Time
}

// Decide approves or dismisses what is held of a list. What was decided before stays as it is, so that a
// decision may be sent twice. A list that is held whole is decided about whole; rows of it can be dismissed before.
// Approving all passes over rows that cannot be prices (zero, negative, in another currency): they stay held.
//
// It fails with a Fault: NotFound for an unknown list, Impossible for lines that were not held or cannot be
// approved, Conflict for a list that was dismissed, Unavailable without a database.
func (s *Store) Decide(ctx context.Context, d Decision) (update *Update, err error) {
	if tx, ok := db.TransactionOf(ctx); ok { // of one that was lent
		update, err = decide(ctx, tx.Conn(), tx, &d)
		return update, listFault(err)
	}
	err = s.onOwnConnection(ctx, func(conn *pgx.Conn) (err error) {
		update, err = decide(ctx, conn, conn, &d)
		return err
	})
	return update, err
}

func decide(ctx context.Context, conn *pgx.Conn, on db.Starter, d *Decision) (update *Update, err error) {
	u, _, err := oneUpdate(ctx, conn, selectUpdate, d.ID)
	if err != nil {
		return nil, err
	}
	if u == nil {
		return nil, noUpdate(d.ID)
	}
	list := &List{Supplier: u.Supplier, Currency: u.Currency, ListDate: u.ListDate, EffectiveFrom: u.EffectiveFrom,
		By: d.By, Now: d.Now}
	w := &taking{conn: conn, list: list, number: u.number, decision: true}
	if err := w.readRails(ctx); err != nil {
		return nil, err
	}
	err = pgx.BeginFunc(ctx, on, func(tx pgx.Tx) error {
		w.tx = tx
		update, err = w.decide(ctx, d)
		return err
	})
	return update, err
}

func (w *taking) decide(ctx context.Context, d *Decision) (*Update, error) {
	if err := w.lock(ctx); err != nil {
		return nil, err
	}
	u, _, err := oneUpdate(ctx, w.tx, selectUpdate, d.ID) // as it is now
	if err != nil {
		return nil, err
	}
	whole := u.Status == Held
	var before string
	if err := w.tx.QueryRow(ctx, selectDecided, u.number).Scan(&before); err != nil {
		return nil, err
	}
	switch {
	case whole && d.Approve && len(d.Lines) > 0:
		return nil, &fault.Fault{Kind: fault.Conflict,
			Detail: "The whole list is held; approve it whole. Rows that must not be taken can be dismissed before."}
	case u.Status == Dismissed && d.Approve:
		return nil, &fault.Fault{Kind: fault.Conflict, Detail: "The list was dismissed.",
			Fix: "Send it again with replace=true and a new Idempotency-Key."}
	}
	chosen, err := w.choose(ctx, d)
	if err != nil {
		return nil, err
	}
	if len(chosen) == 0 && !(whole && len(d.Lines) == 0) {
		return u, fillUpdate(ctx, w.tx, u) // decided before
	}
	if d.Approve {
		err = w.approve(ctx, u, chosen, whole)
	} else {
		err = w.dismiss(ctx, u, chosen, whole && len(d.Lines) == 0)
	}
	if err != nil {
		return nil, err
	}
	return u, w.close(ctx, u, d, len(chosen), before)
}

// heldRow is a row that waits for a decision, or has had one.
type heldRow struct {
	Line   int
	Status RowStatus
	Code   string
}

const selectHeldRows = `
SELECT line, status, code
FROM price_update_row
WHERE update_number = $1 AND status <> 'rejected' AND ($2 OR line = ANY ($3))
ORDER BY line`

// choose returns the lines that are to be decided about now.
func (w *taking) choose(ctx context.Context, d *Decision) ([]int, error) {
	// a failed Query is reported by the collector
	rows, _ := w.tx.Query(ctx, selectHeldRows, w.number, len(d.Lines) == 0, d.Lines)
	held, err := pgx.CollectRows(rows, pgx.RowToStructByPos[heldRow])
	if err != nil {
		return nil, err
	}
	have := make(map[int]heldRow, len(held))
	for _, r := range held {
		have[r.Line] = r
	}
	var wrong fault.List
	for i, line := range d.Lines {
		r, ok := have[line]
		switch pointer := fmt.Sprintf("/lines/%d", i); {
		case !ok:
			wrong = append(wrong, &fault.Fault{Kind: fault.Impossible, Pointer: pointer,
				Detail: fmt.Sprintf("Line %d of the list is not held.", line)})
		case r.Status == RowHeld && d.Approve && !canBePrice(r.Code):
			wrong = append(wrong, &fault.Fault{Kind: fault.Impossible, Pointer: pointer,
				Detail: fmt.Sprintf("Line %d cannot be approved: it is no price in the catalogue's currency over zero.", line),
				Fix:    "Dismiss it."})
		case r.Status != RowHeld && (r.Status == RowApproved) != d.Approve:
			wrong = append(wrong, &fault.Fault{Kind: fault.Conflict, Pointer: pointer,
				Detail: fmt.Sprintf("Line %d has been %s before.", line, r.Status),
				Fix:    "Send the list again with replace=true to have all of it judged anew."})
		}
	}
	var chosen []int
	for _, r := range held {
		if r.Status == RowHeld && (!d.Approve || canBePrice(r.Code)) {
			chosen = append(chosen, r.Line)
		}
	}
	return chosen, wrong.Err()
}

func canBePrice(code string) bool { return code == "move" || code == "unit" }

const createStage = `
CREATE TEMP TABLE price_stage (
  line int NOT NULL, item text COLLATE "C" NOT NULL, size numeric(12, 4) NOT NULL, amount numeric(20, 4) NOT NULL,
  per text COLLATE "C" NOT NULL, hold text COLLATE "C")`

// stageWhole takes back the rows of a list that was held whole: those that were dismissed, or cannot be prices, stay
// out and are as good as not said.
const stageWhole = `
INSERT INTO price_stage (line, item, size, amount, per, hold)
SELECT s.line, s.item, s.size, s.amount, s.listed_per, CASE WHEN r.line IS NULL THEN s.hold ELSE coalesce(s.hold, 'conflict') END
FROM price_update_staged s
LEFT JOIN price_update_row r ON r.update_number = $1 AND r.line = s.line AND r.status = 'dismissed'
WHERE s.update_number = $1`

const stageRows = `
INSERT INTO price_stage (line, item, size, amount, per)
SELECT line, item, size, amount, listed_per FROM price_update_row
WHERE update_number = $1 AND status = 'held' AND line = ANY ($2)`

const deleteAbsent = `
DELETE FROM price_update_absent a
USING price_stage s
WHERE a.update_number = $1 AND a.item = s.item AND a.size = s.size`

const markRows = `UPDATE price_update_row SET status = $3 WHERE update_number = $1 AND status = 'held' AND line = ANY ($2)`

// approve applies the chosen rows, or the whole list with them. Of a list that is too old to be put in order it is not
// known any more what it said nothing of.
func (w *taking) approve(ctx context.Context, u *Update, chosen []int, whole bool) error {
	if err := w.notTooLate(ctx); err != nil {
		return err
	}
	sql, args := stageRows, []any{w.number, chosen}
	if whole {
		sql, args = stageWhole, []any{w.number}
	}
	if _, err := w.tx.Exec(ctx, createStage); err != nil {
		return err
	}
	tag, err := w.tx.Exec(ctx, sql, args...)
	if err != nil {
		return fmt.Errorf("take up the held rows: %w", err)
	}
	w.stage.staged = int(tag.RowsAffected())
	if err := w.judge(ctx); err != nil {
		return err
	}
	if whole {
		w.decision = false // the list speaks of everything now, also by what it lacks
	} else if err := w.onlyRows(ctx); err != nil {
		return err
	}
	if err := w.apply(ctx); err != nil {
		return err
	}
	u.Status = Applied
	_, err = w.tx.Exec(ctx, markRows, w.number, chosen, RowApproved)
	return err
}

// onlyRows keeps approved rows from saying anything of packs that are not among them.
func (w *taking) onlyRows(ctx context.Context) error {
	if _, err := w.tx.Exec(ctx, dropUnsaid); err != nil {
		return err
	}
	_, err := w.tx.Exec(ctx, deleteAbsent, w.number)
	return err
}

func (w *taking) dismiss(ctx context.Context, u *Update, chosen []int, whole bool) error {
	if whole {
		u.Status = Dismissed
	}
	_, err := w.tx.Exec(ctx, markRows, w.number, chosen, RowDismissed)
	return err
}

// selectDecided is what a decision may change of a list.
const selectDecided = `
SELECT json_build_object('status', u.status, 'undecided', (SELECT count(*) FROM price_update_row w WHERE w.update_number = u.number AND w.status = 'held'))::text
FROM price_update u
WHERE u.number = $1`

const updateDecided = `
UPDATE price_update SET status = $2, decided_at = $3, decided_by = $4
WHERE number = $1`

const insertDecision = `
INSERT INTO price_decision (update_number, action, rows, revision, decided_at, decided_by)
VALUES ($1, $2, $3, $4, $5, $6)`

const deleteStaged = `DELETE FROM price_update_staged WHERE update_number = $1`

// close writes the decision down.
func (w *taking) close(ctx context.Context, u *Update, d *Decision, rows int, before string) error {
	if u.Status != Held {
		if _, err := w.tx.Exec(ctx, deleteStaged, w.number); err != nil {
			return err
		}
	}
	if _, err := w.tx.Exec(ctx, updateDecided, w.number, u.Status, d.Now, d.By); err != nil {
		return err
	}
	if err := w.noteRevision(ctx, u); err != nil {
		return err
	}
	action := "dismiss"
	if d.Approve {
		action = "approve"
	}
	if _, err := w.tx.Exec(ctx, insertDecision, w.number, action, rows, u.Revision, d.Now, d.By); err != nil {
		return err
	}
	if _, err := w.tx.Exec(ctx, auditPrices, w.number, d.By, before); err != nil {
		return err
	}
	if d.Approve || u.Status == Dismissed {
		if err := w.tell(ctx, u); err != nil {
			return err
		}
	}
	u.DecidedAt, u.DecidedBy = d.Now.UTC(), d.By
	return fillUpdate(ctx, w.tx, u)
}
