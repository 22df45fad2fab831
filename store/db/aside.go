package db

import (
	"context"
	"sync"

	"github.com/jackc/pgx/v5"
)

// Aside is one connection beside the pool, for small questions whose answer must not wait for anybody's call. It is opened
// when it is needed.
type Aside struct {
	db   *DB
	name string

	mu   sync.Mutex
	conn *pgx.Conn
}

// Aside returns a connection that the server's lists show under that name. It is closed with the database.
func (d *DB) Aside(name string) *Aside {
	a := &Aside{db: d, name: name}
	d.asides.add(a)
	return a
}

// Ask lends the connection to a question, one at a time. A connection that was lost since the last question is opened once
// more; one on which the context ended is given up, as a silent one would be waited for again.
func (a *Aside) Ask(ctx context.Context, question func(*pgx.Conn) error) error {
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.conn != nil {
		err := question(a.conn)
		if !a.conn.IsClosed() {
			return err
		}
		a.conn = nil
		if ctx.Err() != nil {
			return err
		}
	}
	conn, err := a.db.Dial(ctx, a.name, ordinary)
	if err != nil {
		return err
	}
	if err = question(conn); conn.IsClosed() {
		return err
	}
	a.conn = conn
	return err
}

func (a *Aside) hangUp() {
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.conn != nil {
		HangUp(a.conn)
		a.conn = nil
	}
}

// asides are those of a database.
type asides struct {
	mu  sync.Mutex
	all []*Aside
}

func (l *asides) add(a *Aside) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.all = append(l.all, a)
}

func (l *asides) close() {
	l.mu.Lock()
	defer l.mu.Unlock()
	for _, a := range l.all {
		a.hangUp()
	}
}
