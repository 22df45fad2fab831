// Package storetest gives each test a PostgreSQL database of its own, migrated and seeded. Only tests
// import it.
//
// The databases are clones of one that is made once for each state of the migrations and the seed,
// the pristine database, on the server that SEAMWRIGHT_TEST_DATABASE_URL names (its role must be
// allowed to make databases) or, without that, on a private server.
//
// There is a private server for each test process, not one for all: `go test ./...` runs a process a
// package, and the first to start may be the first to end, so a server in common would need a keeper
// that nobody starts and nobody stops. Here the server lives as long as the process that started it.
// What that would cost, making a cluster (0.4 s on a quiet machine with two cores, 1 s on a busy one)
// and the pristine database for every package, is saved by leaving the data in a few numbered
// folders, of which each process takes the first free one: 0.05 s to start again.
//
// A test inside a package of the store cannot import this; one in a package beside it (store_test, lists_test) can.
package storetest

import (
	"context"
	"os"
	"sync"
	"testing"

	"seamwright/store"
)

// opened is the server of this process, started when first asked for.
var opened = sync.OnceValues(func() (*cluster, error) {
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	return openCluster(ctx, os.Getenv(serverVariable))
})

// prepared is that server with the pristine database on it.
var prepared = sync.OnceValues(func() (*cluster, error) {
	c, err := opened()
	if err != nil {
		return nil, err
	}
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	with := *c // others may be reading the one without
	return &with, with.ensurePristine(ctx, store.Fingerprint(), store.Prepare)
})

// New returns the connection string of a new database, migrated and seeded, that no other test uses.
// It is dropped when the test has passed; when it has failed, the database is kept and named in the
// test's log, on a private server for a day. Without a server the test fails.
func New(t testing.TB) string {
	t.Helper()
	c, err := prepared()
	if err != nil {
		t.Fatalf("no database to test with: %v", err)
	}
	return c.database(t)
}

// Cluster returns the connection string of the test server itself, for its administrator: database
// postgres on a private server. Without a server the test fails.
func Cluster(t testing.TB) string {
	t.Helper()
	c, err := opened()
	if err != nil {
		t.Fatalf("no database server to test with: %v", err)
	}
	return c.admin
}
