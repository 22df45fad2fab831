package lists

import (
	"bytes"
	"strconv"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"seamwright/service/catalogue"
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

// selectInForce finds the prices of a supplier ($1) that are in force when a list takes effect ($2): the newest ones,
// for all but those packs whose newest price comes later still.
const selectInForce = `
  SELECT item, size, amount, listed_per
  FROM price_latest
  WHERE supplier = $1 AND valid_from <= $2
  UNION ALL
  SELECT l.item, l.size, p.amount, p.listed_per
  FROM price_latest l
  CROSS JOIN LATERAL (
    SELECT amount, listed_per FROM price p
    WHERE p.item = l.item AND p.size = l.size AND p.supplier = l.supplier AND p.valid_from <= $2
    ORDER BY p.valid_from DESC LIMIT 1) p
  WHERE l.supplier = $1 AND l.valid_from > $2`

// inForceQuery is the query for the prices in force, with its values in it: COPY takes no parameters.
func inForceQuery(conn *pgx.Conn, code string, on catalogue.Date) (string, error) {
	supplier, err := conn.PgConn().EscapeString(code)
	if err != nil {
		return "", err
	}
	if _, err := time.Parse(time.DateOnly, string(on)); err != nil {
		return "", err
	}
	return strings.NewReplacer("$1", "'"+supplier+"'", "$2", "'"+string(on)+"'").Replace(selectInForce), nil
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
