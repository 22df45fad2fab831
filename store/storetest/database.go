package storetest

import (
	"context"
	"crypto/rand"
	"fmt"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
)

const (
	testPrefix = "test_"
	timeLayout = "20060102_150405"
)

// database clones the pristine database for one test.
func (c *cluster) database(t testing.TB) string {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	name := newName(time.Now())
	if err := c.create(ctx, name, c.pristine); err != nil {
		t.Fatalf("clone %s: %v", c.pristine, err)
	}
	t.Cleanup(func() { c.finish(t, name) })
	return c.url(name)
}

// finish drops the database of a test that passed and names that of one that failed.
func (c *cluster) finish(t testing.TB, name string) {
	t.Helper()
	if t.Failed() {
		t.Logf("the test's database is kept: %s", c.directions(name))
		return
	}
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	if err := c.drop(ctx, name); err != nil {
		t.Errorf("drop %s: %v", name, err)
	}
}

// directions say how to look into a kept database. Its private server ends with the tests.
func (c *cluster) directions(name string) string {
	if c.private != "" {
		return fmt.Sprintf("start the service with --data-dir %s, then psql '%s'", c.private, c.url(name))
	}
	if u, err := url.Parse(c.url(name)); err == nil && u.Scheme != "" {
		return u.Redacted()
	}
	return name
}

// newName is a name that no other test has, which tells when it was given.
func newName(now time.Time) string {
	return testPrefix + now.UTC().Format(timeLayout) + "_" + strings.ToLower(rand.Text()[:10])
}

// madeAt reads the time out of a test database's name.
func madeAt(name string) (time.Time, bool) {
	rest, ok := strings.CutPrefix(name, testPrefix)
	if !ok || len(rest) < len(timeLayout) {
		return time.Time{}, false
	}
	made, err := time.Parse(timeLayout, rest[:len(timeLayout)])
	return made, err == nil
}

// create makes a database, a copy of another when that is named. Copying files took half the time of
// PostgreSQL's default, which writes every block into the log: 14 against 30 ms in memory, 10 MB.
func (c *cluster) create(ctx context.Context, name, from string) error {
	statement := "CREATE DATABASE " + pgx.Identifier{name}.Sanitize()
	if c.owner != "" {
		statement += " OWNER " + pgx.Identifier{c.owner}.Sanitize()
	}
	if from != "" {
		statement += " TEMPLATE " + pgx.Identifier{from}.Sanitize() + c.strategy
	}
	_, err := c.pool.Exec(ctx, statement)
	return err
}

func (c *cluster) drop(ctx context.Context, name string) error {
	_, err := c.pool.Exec(ctx, "DROP DATABASE IF EXISTS "+pgx.Identifier{name}.Sanitize()+" WITH (FORCE)")
	return err
}
