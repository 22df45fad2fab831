package lists

import (
	"bytes"
	"context"
	"errors"
	"strconv"

	"github.com/jackc/pgx/v5"

	"seamwright/store/db"
)

// null stands for no value in COPY's text format.
var null = []byte(`\N`)

// copyOut hands every row of a query to a function, cell by cell, as texts that are good until it returns. It takes
// less than half the time of an ordinary query: a row is one message, and nothing is made of it.
func copyOut(ctx context.Context, conn *pgx.Conn, query string, read func(cells [][]byte) error) error {
	_, err := conn.PgConn().CopyTo(ctx, &copiedRows{ctx: ctx, read: read}, `COPY (`+query+`) TO STDOUT`)
	return err
}

// copiedRows takes apart what COPY sends.
type copiedRows struct {
	ctx   context.Context // of the reading
	read  func(cells [][]byte) error
	part  []byte // of a row that came in more than one piece
	cells [][]byte
	rows  int
}

func (c *copiedRows) Write(data []byte) (int, error) {
	for rest := data; len(rest) > 0; {
		end := bytes.IndexByte(rest, '\n')
		if end < 0 {
			c.part = append(c.part, rest...)
			break
		}
		line := rest[:end]
		if len(c.part) > 0 {
			line = append(c.part, line...)
			c.part = c.part[:0]
		}
		if err := c.row(line); err != nil {
			return 0, err
		}
		rest = rest[end+1:]
	}
	return len(data), nil
}

func (c *copiedRows) row(line []byte) error {
	c.cells = c.cells[:0]
	for more := true; more; {
		var cell []byte
		cell, line, more = bytes.Cut(line, []byte{'\t'})
		if bytes.IndexByte(cell, '\\') >= 0 && !bytes.Equal(cell, null) {
			// nothing else is escaped where control characters are not allowed
			cell = bytes.ReplaceAll(cell, []byte(`\\`), []byte(`\`))
		}
		c.cells = append(c.cells, cell)
	}
	if c.rows++; c.rows%db.Breath == 0 {
		db.GiveWay(c.ctx)
	}
	return c.read(c.cells)
}

// writeCells writes a line for COPY of cells that came from one.
func writeCells(b *bytes.Buffer, cells ...[]byte) {
	for i, c := range cells {
		if i > 0 {
			b.WriteByte('\t')
		}
		b.Write(c)
	}
	b.WriteByte('\n')
}

// appendTenThousandths writes a price with four decimals.
func appendTenThousandths(b []byte, n int64) []byte {
	if n < 0 {
		b, n = append(b, '-'), -n
	}
	b = append(strconv.AppendInt(b, n/10_000, 10), '.')
	for unit, rest := int64(1000), n%10_000; unit > 0; unit /= 10 {
		b = append(b, byte('0'+rest/unit%10))
	}
	return b
}

var errNoPrice = errors.New("a price of the database has not four decimals")

// parseTenThousandths reads a price as the database writes it, with four decimals.
func parseTenThousandths(text []byte) (n int64, err error) {
	point := len(text) - 5
	if point < 1 || point > 14 || text[point] != '.' {
		return 0, errNoPrice
	}
	for i, c := range text {
		switch {
		case i == point:
		case c < '0' || c > '9':
			return 0, errNoPrice
		default:
			n = n*10 + int64(c-'0')
		}
	}
	return n, nil
}
