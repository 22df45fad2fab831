package lists_test

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"math/rand/v2"
	"os"
	osexec "os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"

	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/pricelist"
	"seamwright/store"
	"seamwright/store/lists"
	"seamwright/store/pgserver"
	"seamwright/store/storetest"
)

// senderURL in the environment makes this test program send lists to that database until it is killed.
const senderURL = "STORE_TEST_SENDER_URL"

func TestMain(m *testing.M) {
	if url := os.Getenv(senderURL); url != "" {
		sendLists(url)
		return
	}
	os.Exit(m.Run())
}

// killPacks is how many packs the lists of the kill tests price, each list all of them alike.
const killPacks = 3000

// stock makes the packs and their supplier.
func stock(t testing.TB, conn *pgx.Conn) {
	t.Helper()
	storetest.Exec(t, conn, fmt.Sprintf(`INSERT INTO item (code, kind, name, unit, source) SELECT 'thing_' || n, 'sundry', 'Thing ' || n, 'each', 'demo' FROM generate_series(1, %d) n`, killPacks))
	storetest.Exec(t, conn, `INSERT INTO item_pack (item, size) SELECT code, 1 FROM item WHERE code LIKE 'thing%'`)
	storetest.Exec(t, conn, `INSERT INTO supplier (code, name) VALUES ('stock', 'Stock (invented)')`)
}

// killList is the n-th list: every pack costs 100 + n, from the n-th day of 2026 on.
func killList(n int) lists.List {
	var b strings.Builder
	b.WriteString("item,price\n")
	for i := 1; i <= killPacks; i++ {
		fmt.Fprintf(&b, "thing_%d,%d.00\n", i, 100+n)
	}
	r, err := pricelist.Open(strings.NewReader(b.String()), pricelist.Options{MediaType: "text/csv", Separator: ',',
		DecimalSign: '.'})
	if err != nil {
		panic(err) // the list above
	}
	day := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, n).Format(time.DateOnly)
	return lists.List{Supplier: "stock", Currency: "USD", ListDate: catalogue.Date(day), Rows: r, By: "night job",
		Now: noon, Today: "2026-12-31"}
}

// firstSent in the environment says with which list it begins.
const firstSent = "STORE_TEST_SENDER_FIRST"

// sendLists sends one list after the other.
func sendLists(url string) {
	s, err := store.Open(context.Background(), url, slog.New(slog.DiscardHandler))
	n, notNumber := strconv.Atoi(os.Getenv(firstSent))
	for err = errors.Join(err, notNumber); err == nil; n++ {
		_, err = s.Lists.TakeIn(context.Background(), killList(n)) // one that was sent before changes nothing
		fmt.Println("sent", n)
	}
	fmt.Println("failed:", err)
	os.Exit(1)
}

// whole checks that the prices are those of one list, the last one that is written down, and that all that hangs on
// them agrees; it returns the list's number, 0 before the first.
func whole(t testing.TB, conn *pgx.Conn) int {
	t.Helper()
	require.Equal(t, 1, storetest.One[int](t, conn,
		`SELECT count(DISTINCT coalesce(l.amount, 0)) FROM item i LEFT JOIN price_latest l ON l.item = i.code WHERE i.code LIKE 'thing%'`), "half a list")
	now := storetest.One[string](t, conn,
		`SELECT coalesce(max(amount), 100)::int::text FROM price_latest WHERE supplier = 'stock'`)
	require.Equal(t, now, storetest.One[string](t, conn,
		`SELECT (100 + coalesce(max(effective_from) - '2026-01-01', 0))::text FROM price_update WHERE supplier = 'stock'`),
		"report and prices")
	require.Zero(t, storetest.One[int](t, conn, `
		SELECT count(*) FROM price_latest l
		FULL JOIN (SELECT DISTINCT ON (supplier, item, size) supplier, item, size, valid_from, amount FROM price ORDER BY supplier, item, size, valid_from DESC) p
		  USING (supplier, item, size)
		WHERE (l.valid_from, l.amount) IS DISTINCT FROM (p.valid_from, p.amount)`), "the newest prices and the history")
	require.Zero(t, storetest.One[int](t, conn,
		`SELECT count(*) FROM price_update WHERE revision > (SELECT revision FROM catalogue_revision)`))
	n, err := strconv.Atoi(now)
	require.NoError(t, err)
	return n - 100
}

// How often the service and the server are killed, each time at another moment of a list.
const serviceKills, serverKills = 12, 4

func TestAServiceKilledAtAnyMomentLeavesTheOldPricesOrTheNew(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	stock(t, conn)
	url := urlOf(conn)
	last := 0
	for range serviceKills {
		began := time.Now()
		child := osexec.Command(os.Args[0])
		first := max(last, 1) // once more what was applied last, and then what is new
		child.Env = append(os.Environ(), senderURL+"="+url, fmt.Sprint(firstSent, "=", first))
		said, err := child.StdoutPipe()
		require.NoError(t, err)
		require.NoError(t, child.Start())
		lines := bufio.NewScanner(said)
		for n, until := first, last+1+rand.IntN(2); n <= until; n++ { // at least one is applied each time
			require.True(t, lines.Scan(), "it goes on until it is killed: %v", lines.Err())
			require.Equal(t, fmt.Sprint("sent ", n), lines.Text())
		}
		usual := time.Since(began)/2 + 1
		time.Sleep(rand.N(usual)) // somewhere in the next list, or the one behind it
		require.NoError(t, child.Process.Kill())
		require.Error(t, child.Wait(), "it was killed")
		// The server may not have noticed yet, and finish or roll back what it was told.
		require.Eventually(t, func() bool {
			return storetest.One[int](t, conn,
				`SELECT count(*) FROM pg_stat_activity WHERE application_name = 'seamwright prices' AND datname = current_database()`) == 0
		}, time.Minute, 10*time.Millisecond)
		now := whole(t, conn)
		require.Greater(t, now, last, "what was applied stays, and what was said to be sent is there")
		last = now
	}
	u, err := s.Lists.TakeIn(context.Background(), killList(last+1))
	require.NoError(t, err)
	require.Equal(t, lists.Applied, u.Status)
	require.Equal(t, last+1, whole(t, conn))
}

func urlOf(conn *pgx.Conn) string { return conn.Config().ConnString() }

func TestAServerKilledAtAnyMomentLeavesTheOldPricesOrTheNew(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	server, err := pgserver.Start(ctx, pgserver.Options{DataDir: storetest.Folder(t)})
	require.NoError(t, err)
	defer func() { require.NoError(t, server.Stop(ctx)) }()
	require.NoError(t, store.Prepare(ctx, server.URL()))
	s, err := store.Open(ctx, server.URL(), slog.New(slog.DiscardHandler))
	require.NoError(t, err)
	defer s.Close()
	conn := back(t, server.URL())
	stock(t, conn)
	require.NoError(t, conn.Close(ctx))

	started := time.Now()
	_, err = s.Lists.TakeIn(ctx, killList(1))
	require.NoError(t, err)
	usual := time.Since(started)
	last, lost := 1, 0
	for n := 0; n < serverKills || lost == 0; n++ {
		done := make(chan error, 1)
		go func() {
			_, err := s.Lists.TakeIn(ctx, killList(last+1))
			done <- err
		}()
		time.Sleep(rand.N(usual))
		kill(t, server)
		if err := <-done; err != nil {
			requireFault(t, err, fault.Unavailable, "Send it again")
			lost++
		}
		conn := back(t, server.URL())
		now := whole(t, conn)
		require.Contains(t, []int{last, last + 1}, now, "the old or the new")
		if last == now { // the same list again, as its sender would
			u, err := s.Lists.TakeIn(ctx, killList(last+1))
			require.NoError(t, err)
			require.Equal(t, lists.Applied, u.Status)
			require.Equal(t, last+1, whole(t, conn))
		}
		last++
		require.NoError(t, conn.Close(ctx))
	}
}

// kill kills the first process of the server, which takes the others with it.
func kill(t testing.TB, server *pgserver.Server) {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join(server.DataDir(), "data", "postmaster.pid"))
	require.NoError(t, err)
	pid, err := strconv.Atoi(strings.Fields(string(raw))[0])
	require.NoError(t, err)
	require.Greater(t, pid, 1)
	require.NoError(t, syscall.Kill(pid, syscall.SIGKILL))
}

// back connects as soon as the server is there again.
func back(t testing.TB, url string) *pgx.Conn {
	t.Helper()
	var conn *pgx.Conn
	require.Eventually(t, func() bool {
		var err error
		conn, err = pgx.Connect(context.Background(), url)
		return err == nil
	}, 20*time.Second, 20*time.Millisecond)
	return conn
}
