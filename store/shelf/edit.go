package shelf

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/sheet"
	"seamwright/store/db"
)

// Edit is a change of one part of the catalogue.
type Edit struct {
	Part  *sheet.Part
	Keys  []string // of the rows that may be written; they are locked
	Actor string   // who
	// AllowMoves lets prices move by more than their supplier's limit.
	AllowMoves bool
	// Known is the catalogue as the caller knows it. Where nothing changes and its revision is still the one in force it is
	// the answer, so that who puts back what is there costs no reading of a whole catalogue. Nil: none is known.
	Known *catalogue.Snapshot
	// Decide says what to write, given the rows of Keys that there are. They stay as they are until the edit is
	// over. It may be called again when another change came between. What it finds wrong goes into the RefusedError.
	Decide func(now map[string]Present) ([]Write, []sheet.Wrong, error)
}

// Edited is the catalogue after an edit.
type Edited struct {
	Snapshot *catalogue.Snapshot
	Changed  int           // rows that are not as they were
	Created  int           // of these, rows that were not in use before
	Odd      []sheet.Wrong // what is odd about the rows, but may be so
}

// RefusedError lists everything that is wrong with the rows of an edit.
type RefusedError struct{ Wrong []sheet.Wrong }

// Error returns what is wrong, one a line.
func (e *RefusedError) Error() string {
	lines := make([]string, len(e.Wrong))
	for i, w := range e.Wrong {
		lines[i] = fmt.Sprintf("row %d, %s: %s", w.Row, w.Column, w.Detail)
	}
	return strings.Join(lines, "\n")
}

// editWithin is how long a whole edit may take, waiting for others counted in; answers have 30 s.
const editWithin = 20 * time.Second

// Edit changes one part of the catalogue in one transaction: the rows are locked, Decide decides, everything is
// checked, rows and audit entries are written, and the catalogue that comes of it is read and checked as a whole.
// Rows that stay as they are are not written, and when none changes the revision does not rise. From the moment
// the revision rises, other writers of the catalogue wait: two edits that are good each by itself cannot make a
// bad catalogue together.
//
// Within a transaction of the context each try is a savepoint. Going back to it gives up the locks that it took, and
// every statement sees what is committed by then (READ COMMITTED), so that trying again makes sense there, too.
//
// It fails with a RefusedError, a fault, what Decide failed with, or an error of the database (see Away).
func (s *Store) Edit(ctx context.Context, e Edit) (*Edited, error) {
	ctx, cancel := context.WithTimeout(ctx, editWithin)
	defer cancel()
	for try := 1; ; try++ {
		var done *Edited
		err := pgx.BeginFunc(ctx, s.db.On(ctx), func(tx pgx.Tx) (err error) {
			done, err = (&editing{tx: tx, Edit: e, table: editTables[e.Part]}).run(ctx)
			return err
		})
		if err == nil && done.Changed == 0 {
			done.Snapshot, err = s.loadAfter(ctx, e.Known)
		}
		if err == nil {
			return done, nil
		}
		if try == db.MostTries || !db.CameBetween(err) {
			return nil, refusedByDatabase(err)
		}
	}
}

// editing is an edit in its transaction.
type editing struct {
	Edit
	tx     pgx.Tx
	table  editTable
	now    map[string]Present
	writes []Write
	done   Edited
}

func (e *editing) run(ctx context.Context) (*Edited, error) {
	wrong, err := e.lock(ctx)
	if err != nil {
		return nil, err
	}
	writes, more, err := e.Decide(e.now)
	if err != nil {
		return nil, err
	}
	e.keep(writes)
	found, err := e.check(ctx)
	if err != nil {
		return nil, err
	}
	if wrong = slices.Concat(wrong, more, found); len(wrong) > 0 {
		return nil, &RefusedError{wrong}
	}
	if len(e.writes) == 0 {
		return &e.done, nil // Edit reads the catalogue afterwards: here, others may change it meanwhile
	}
	if err := e.write(ctx); err != nil {
		return nil, err
	}
	e.done.Snapshot, err = loadIn(ctx, e.tx, nil)
	var invalid *invalidError
	if errors.As(err, &invalid) {
		return nil, &fault.Fault{Kind: fault.Conflict,
			Detail: "The change does not fit the rest of the catalogue: " + strings.Join(invalid.problems, "; ") + "."}
	}
	return &e.done, err
}

// lock locks the rows and reads them. A code that another part has already is wrong.
func (e *editing) lock(ctx context.Context) (wrong []sheet.Wrong, err error) {
	rows, _ := e.tx.Query(ctx, e.table.lock, e.Keys) // a failed Query is reported by the rows
	others, err := pgx.CollectRows(rows, pgx.RowTo[bool])
	if err != nil {
		return nil, err
	}
	for _, other := range others {
		if other {
			wrong = append(wrong, sheet.Wrong{Column: "code",
				Detail: "The code belongs to another part of the catalogue: fasteners and materials share their codes."})
		}
	}
	e.now = make(map[string]Present, len(e.Keys))
	return wrong, readPart(ctx, e.tx, e.Part, e.Keys, func(p Present) error {
		e.now[p.Row.Key()] = p
		return nil
	})
}

// keep takes the writes that change something.
func (e *editing) keep(writes []Write) {
	e.writes = e.writes[:0]
	for _, w := range writes {
		was, there := e.now[w.Row.Key()]
		if there && was.Live && !w.Retire && was.Row.Same(w.Row) {
			continue
		}
		e.writes = append(e.writes, w)
		if !there || !was.Live {
			e.done.Created++
		}
	}
	e.done.Changed = len(e.writes)
}

// check holds the rows against the rules and what they refer to, and retired ones against what refers to them.
func (e *editing) check(ctx context.Context) (wrong []sheet.Wrong, err error) {
	known, err := readKnown(ctx, e.tx, e.Part, e.writes)
	if err != nil {
		return nil, err
	}
	var sound []Write
	for _, w := range e.writes {
		if w.Retire {
			if err := e.unused(ctx, w.Row.Key()); err != nil {
				return nil, err
			}
			continue
		}
		found := w.Row.Check(known)
		if was, there := e.now[w.Row.Key()]; there && was.Row.Get("kind") != w.Row.Get("kind") {
			found = append(found, sheet.Wrong{Column: "kind",
				Detail: fmt.Sprintf("Is a %s; the kind of a thing never changes. Retire it and make another one.",
					was.Row.Get("kind"))})
		}
		if len(found) == 0 {
			sound = append(sound, w)
		}
		for _, one := range found {
			one.Row = w.Number
			wrong = append(wrong, one)
		}
		for _, one := range w.Row.Warnings() {
			one.Row = w.Number
			e.done.Odd = append(e.done.Odd, one)
		}
	}
	if e.Part != sheet.Prices || e.AllowMoves {
		return wrong, nil
	}
	tooFar, err := moved(ctx, e.tx, sound)
	return append(wrong, tooFar...), err
}

// mostUsers is how many users a refusal to retire names.
const mostUsers = 20

// unused fails when something in use refers to a thing.
func (e *editing) unused(ctx context.Context, key string) error {
	if e.table.users == "" {
		return nil
	}
	rows, _ := e.tx.Query(ctx, e.table.users, key) // a failed Query is reported by the collector
	users, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil || len(users) == 0 {
		return err
	}
	more := ""
	if n := len(users) - mostUsers; n > 0 {
		users, more = users[:mostUsers], fmt.Sprintf(" and %d more", n)
	}
	return &fault.Fault{Kind: fault.Conflict,
		Detail: fmt.Sprintf("The %s %s is still used by %s%s.", e.Part.One, key, strings.Join(users, ", "), more),
		Fix:    "Change or retire these first."}
}

// write writes the rows, raises the revision, and writes the audit entries. First all rows, then what hangs on
// them: rows of one edit may refer to each other.
func (e *editing) write(ctx context.Context) error {
	var batch pgx.Batch
	for _, w := range e.writes {
		if was, there := e.now[w.Row.Key()]; w.Retire {
			batch.Queue(e.table.retire, w.Row.Key())
		} else {
			e.table.put(&batch, w.Row, there, was)
		}
	}
	for _, w := range e.writes {
		if !w.Retire && e.table.hang != nil {
			e.table.hang(&batch, w.Row)
		}
	}
	if err := e.tx.SendBatch(ctx, &batch).Close(); err != nil {
		return err
	}
	return e.audit(ctx)
}

const insertEntries = `
INSERT INTO audit_entry (at, actor, entity, code, action, before, after, revision)
SELECT clock_timestamp(), $1::text, $2::text, w.code, w.action, w.before::json, w.after::json, r.revision
FROM catalogue_revision r, unnest($3::text[], $4::text[], $5::text[], $6::text[]) WITH ORDINALITY AS w (code, action, before, after, place)
ORDER BY w.place`

// audit raises the revision and writes an entry for each row that was written.
func (e *editing) audit(ctx context.Context) error {
	if err := db.RaiseRevision(ctx, e.tx); err != nil {
		return err
	}
	n := len(e.writes)
	codes, actions, before, after := make([]string, n), make([]string, n), make([]*string, n), make([]*string, n)
	for i, w := range e.writes {
		was, there := e.now[w.Row.Key()]
		codes[i] = w.Row.Key()
		if there {
			text := string(was.Row.JSON())
			before[i] = &text
		}
		switch {
		case w.Retire:
			actions[i] = "retire"
		case !there:
			actions[i] = "create"
		case !was.Live:
			actions[i] = "restore"
		default:
			actions[i] = "replace"
		}
		if !w.Retire {
			text := string(w.Row.JSON())
			after[i] = &text
		}
	}
	_, err := e.tx.Exec(ctx, insertEntries, e.Actor, e.Part.Name, codes, actions, before, after)
	return err
}

// refusedByDatabase makes a refusal of the breach of a constraint: the checks before it should have found it, and
// the database did.
func refusedByDatabase(err error) error {
	if name := db.Constraint(err); name != "" {
		return &RefusedError{[]sheet.Wrong{{Detail: "The database refuses it by its rule " + name + "."}}}
	}
	return err
}
