package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sync/atomic"
	"time"

	"github.com/jackc/pgx/v5"

	listsroom "seamwright/api/lists"
	"seamwright/deploy/load/shop"
	"seamwright/service/catalogue"
	"seamwright/store/lists"
)

type bench struct {
	options
	*shop.Shop
	out io.Writer
}

// supplier is who sells the made-up items.
const supplier = "bulk"

// fill makes up items from..to, each in one pack with one price, and a supplier whose lists are not held for their size.
func (b *bench) fill(ctx context.Context, conn *pgx.Conn, from, to int) error {
	for _, sql := range []string{
		`INSERT INTO item (code, kind, name, unit, source) SELECT 'made_up_' || n, 'lumber', 'Made-up lumber ' || n, 'board_foot', 'demo' FROM generate_series($1::int, $2::int) n`,
		`INSERT INTO lumber (code, species, rough_thickness_mm, surfaced_thickness_mm, grade, clear_twelfths, stock_lengths_mm, working_width_mm)
		 SELECT 'made_up_' || n, 'teak', 25.4 + n % 50, 20.6375, 'FAS', 10, ARRAY[1828.8 + n % 7, 2438.4, 3048], 150 + n % 100 FROM generate_series($1::int, $2::int) n`,
		`INSERT INTO item_pack (item, size) SELECT 'made_up_' || n, 1 FROM generate_series($1::int, $2::int) n`,
		`INSERT INTO price (item, size, supplier, valid_from, currency, amount) SELECT 'made_up_' || n, 1, 'bulk', '2026-01-01', 'USD', 5 + n % 1000 / 100.0 FROM generate_series($1::int, $2::int) n`,
	} {
		if _, err := conn.Exec(ctx, sql, from, to); err != nil {
			return fmt.Errorf("fill: %w", err)
		}
	}
	_, err := conn.Exec(ctx, `VACUUM ANALYZE`) // else the first to read would tidy up, and the database beside the rest
	return err
}

const insertSupplier = `INSERT INTO supplier (code, name, move_limit, missing_limit, held_limit) VALUES ('bulk', 'Bulk goods (invented)', 10000, 100, 100) ON CONFLICT DO NOTHING`

// list writes a price list: every item once, each row's item by its code and number. In each round another part of the items, as large
// as asked for, is some cents dearer than it was filled in; what earlier rounds changed stays so. Round 0 stands apart, and in round -1 nothing is dearer.
func (b *bench) list(name string, rows, round int,
	item func(row int) (code string, number int)) (path string, err error) {
	path = filepath.Join(b.Dir, name)
	file, err := os.Create(path)
	if err != nil {
		return "", err
	}
	w := bufio.NewWriterSize(file, 1<<20)
	fmt.Fprintln(w, "item,price,currency,per")
	every := 100 / b.changed
	for row := 1; row <= rows; row++ {
		code, n := item(row)
		cents := 500 + n%1000
		if part := n % every; part < round || round == 0 && part == every-1 {
			cents += 7
		}
		fmt.Fprintf(w, "%s,%d.%02d,USD,board_foot\n", code, cents/100, cents%100)
	}
	return path, errors.Join(w.Flush(), file.Close())
}

func madeUp(n int) (string, int) { return fmt.Sprintf("made_up_%d", n), n }

// beside takes in lists through the service's code and through the floor, in turns.
func (b *bench) beside(ctx context.Context) error {
	conn, err := pgx.Connect(ctx, b.URL)
	if err != nil {
		return err
	}
	defer func() { _ = conn.Close(ctx) }() // the server stops anyway
	cat, err := b.Store.Shelf.Load(ctx)
	if err != nil {
		return err
	}
	fmt.Fprintf(b.out, "filling a catalogue of %d items\n", b.rows)
	if err := b.fill(ctx, conn, b.items+1, b.rows); err != nil {
		return err
	}
	if err := prepareFloor(ctx, conn); err != nil {
		return err
	}
	var ours, floors, ratios []float64
	for round := 1; round <= b.rounds; round++ {
		path, err := b.list(fmt.Sprintf("list%d.csv", round), b.rows, round, madeUp)
		if err != nil {
			return err
		}
		floor, err := timed(func() error { return takeFloor(ctx, conn, path) })
		if err == nil {
			_, err = conn.Exec(ctx, `UPDATE floor_current c SET amount = h.amount FROM (SELECT DISTINCT ON (item) item, amount FROM floor_history ORDER BY item, day DESC) h WHERE h.item = c.item`)
		}
		if err != nil {
			return fmt.Errorf("floor: %w", err)
		}
		watch := watchMemory()
		var update *lists.Update
		own, err := timed(func() error {
			update, err = b.take(ctx, cat, path, round)
			return err
		})
		grown := watch()
		if err != nil {
			return err
		}
		c := update.Counts
		fmt.Fprintf(b.out, "round %d: service %.2f s, floor %.2f s, ratio %.2f; %s, %d rows: %d changed, %d unchanged, %d held, %d rejected; memory grew by %d MB\n",
			round, own, floor, own/floor, update.Status, c.Rows, c.Changed, c.Unchanged, c.Held, c.Rejected, grown>>20)
		ours, floors, ratios = append(ours, own), append(floors, floor), append(ratios, own/floor)
	}
	fmt.Fprintf(b.out, "median: service %.2f s, floor %.2f s, ratio %.2f (target at most 2.5)\n", median(ours),
		median(floors), median(ratios))
	return nil
}

// take loads a list the way the command line does.
func (b *bench) take(ctx context.Context, cat *catalogue.Snapshot, path string, round int) (*lists.Update, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer func() { _ = file.Close() }() // it was only read
	day := time.Date(2026, 2, round, 0, 0, 0, 0, time.UTC).Format(time.DateOnly)
	return listsroom.TakeIn(ctx, b.Store, cat, time.Now, listsroom.Upload{Body: file, MediaType: "text/csv",
		Supplier: supplier, ListDate: day, By: "load"})
}

func prepareFloor(ctx context.Context, conn *pgx.Conn) error {
	for _, sql := range []string{
		`CREATE TABLE floor_current AS SELECT item, amount FROM price_latest WHERE supplier = 'bulk'`,
		`ALTER TABLE floor_current ADD PRIMARY KEY (item)`,
		`CREATE TABLE floor_history (item text, day timestamptz, amount numeric(14, 4), PRIMARY KEY (item, day))`,
		`ANALYZE floor_current`,
	} {
		if _, err := conn.Exec(ctx, sql); err != nil {
			return fmt.Errorf("prepare the floor: %w", err)
		}
	}
	return nil
}

// takeFloor copies the text and inserts the changed rows, in one transaction.
func takeFloor(ctx context.Context, conn *pgx.Conn, path string) error {
	file, err := os.Open(path)
	if err != nil {
		return err
	}
	defer func() { _ = file.Close() }() // it was only read
	return pgx.BeginFunc(ctx, conn, func(tx pgx.Tx) error {
		if _, err := tx.Exec(ctx, `CREATE TEMP TABLE floor_stage (item text, amount numeric(14, 4), currency text, per text) ON COMMIT DROP`); err != nil {
			return err
		}
		if _, err := tx.Conn().PgConn().CopyFrom(ctx, file, `COPY floor_stage FROM STDIN (FORMAT csv, HEADER)`); err != nil {
			return err
		}
		if _, err := tx.Exec(ctx, `ANALYZE floor_stage`); err != nil {
			return err
		}
		_, err := tx.Exec(ctx, `INSERT INTO floor_history SELECT s.item, now(), s.amount FROM floor_stage s JOIN floor_current c USING (item) WHERE s.amount <> c.amount`)
		return err
	})
}

func timed(do func() error) (seconds float64, err error) {
	began := time.Now()
	err = do()
	return time.Since(began).Seconds(), err
}

func median(all []float64) float64 {
	all = slices.Sorted(slices.Values(all))
	return all[len(all)/2]
}

// watchMemory samples this process's heap and returns how far it grew at most over what was in use before.
func watchMemory() func() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	before := m.HeapInuse + m.StackInuse
	var most atomic.Uint64
	done, ended := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(ended)
		for tick := time.NewTicker(20 * time.Millisecond); ; {
			runtime.ReadMemStats(&m)
			most.Store(max(most.Load(), m.HeapInuse+m.StackInuse))
			select {
			case <-done:
				tick.Stop()
				return
			case <-tick.C:
			}
		}
	}()
	return func() uint64 {
		close(done)
		<-ended
		return most.Load() - min(before, most.Load())
	}
}
