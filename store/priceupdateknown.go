package store

import (
	"context"
	"fmt"

	"github.com/jackc/pgx/v5"

	"seamwright/service/money"
	"seamwright/service/pricelist"
)

// knownItems is what the rows of a list are held against: every item that is sold, its packs, and the supplier's
// article numbers. It is read once a list. With a million packs it takes about 100 MB, with the few ten thousand of
// a usual shop a few.
type knownItems struct {
	items    map[string]*knownItem
	articles map[string]*knownPack
	codes    []string // of the items, for finding what a mistyped one may have meant
}

// knownItem is an item and what turns a listed price into one of its packs.
type knownItem struct {
	code  string
	own   pricelist.Own
	packs []knownPack
}

// knownPack is a pack and what the list said of it so far.
type knownPack struct {
	item     *knownItem
	index    int32 // among the item's packs
	line     int32 // of the first row about it; 0: none yet
	amount   int64 // of that row, in ten-thousandths
	conflict bool  // rows of the list give it different prices
}

func (p *knownPack) size() money.Quantity { return p.item.own.Packs[p.index] }

const selectKnownItems = `
SELECT i.code::text, i.unit, coalesce(l.rough_thickness_mm, 0), coalesce(l.working_width_mm, 0)
FROM item i
LEFT JOIN lumber l ON l.code = i.code
WHERE i.retired_at IS NULL`

const selectKnownPacks = `
SELECT p.item::text, p.size::text
FROM item_pack p
WHERE p.retired_at IS NULL
ORDER BY p.item, p.size`

const selectKnownArticles = `
SELECT a.article, a.item::text, a.size::text
FROM supplier_article a
WHERE a.supplier = $1`

func readKnown(ctx context.Context, conn *pgx.Conn, supplier string) (*knownItems, error) {
	k := &knownItems{items: make(map[string]*knownItem), articles: make(map[string]*knownPack)}
	if err := eachRow(ctx, conn, k.item, selectKnownItems); err != nil {
		return nil, fmt.Errorf("read items: %w", err)
	}
	if err := eachRow(ctx, conn, k.pack, selectKnownPacks); err != nil {
		return nil, fmt.Errorf("read packs: %w", err)
	}
	if err := eachRow(ctx, conn, k.article, selectKnownArticles, supplier); err != nil {
		return nil, fmt.Errorf("read articles: %w", err)
	}
	return k, nil
}

// eachRow hands every row of a query to a function.
func eachRow(ctx context.Context, conn *pgx.Conn, read func(pgx.Rows) error, sql string, args ...any) error {
	rows, err := conn.Query(ctx, sql, args...)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		if err := read(rows); err != nil {
			return err
		}
	}
	return rows.Err()
}

func (k *knownItems) item(rows pgx.Rows) error {
	var i knownItem
	if err := rows.Scan(&i.code, &i.own.Unit, &i.own.RoughThickness, &i.own.WorkingWidth); err != nil {
		return err
	}
	k.items[i.code] = &i
	k.codes = append(k.codes, i.code)
	return nil
}

// pack adds a pack to its item; packs of items that are retired are passed over. All packs of an item come one
// after the other.
func (k *knownItems) pack(rows pgx.Rows) error {
	raw := rows.RawValues()
	item := k.items[string(raw[0])]
	if item == nil {
		return nil
	}
	size, err := money.ParseQuantity(string(raw[1]))
	if err != nil {
		return err
	}
	item.packs = append(item.packs, knownPack{item: item, index: int32(len(item.packs))})
	item.own.Packs = append(item.own.Packs, size)
	return nil
}

// article is read when all packs are there: none moves any more.
func (k *knownItems) article(rows pgx.Rows) error {
	raw := rows.RawValues()
	item := k.items[string(raw[1])]
	if item == nil {
		return nil
	}
	size, err := money.ParseQuantity(string(raw[2]))
	if err != nil {
		return err
	}
	if pack := item.pack(size); pack != nil {
		k.articles[string(raw[0])] = pack
	}
	return nil
}

// pack returns the pack of a size, or nil.
func (i *knownItem) pack(size money.Quantity) *knownPack {
	for n := range i.own.Packs {
		if i.own.Packs[n].Cmp(size) == 0 {
			return &i.packs[n]
		}
	}
	return nil
}

// resolve finds the pack that a row means, and its price.
func (s *priceStage) resolve(r *pricelist.Row) (*knownPack, money.UnitPrice, *pricelist.Rejection) {
	var none money.UnitPrice
	if r.Item != "" {
		item := s.known.items[r.Item]
		if item == nil {
			return nil, none, &pricelist.Rejection{Line: r.Line, Column: "item", Text: r.Item, Reason: "the catalogue has no such item on sale" + s.hint(r.Item)}
		}
		converted, rejection := pricelist.Convert(r, item.own)
		if rejection != nil {
			return nil, none, rejection
		}
		return item.pack(converted.PackSize), converted.Price, nil
	}
	pack := s.known.articles[r.Article]
	if pack == nil {
		return nil, none, &pricelist.Rejection{Line: r.Line, Column: "article", Text: r.Article, Reason: "nobody has said which item this article of the supplier is" + s.hint(r.Article)}
	}
	own := pack.item.own
	own.Packs = own.Packs[pack.index : pack.index+1]
	converted, rejection := pricelist.Convert(r, own)
	return pack, converted.Price, rejection
}
