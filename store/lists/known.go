package lists

import (
	"context"
	"fmt"
	"strconv"

	"github.com/jackc/pgx/v5"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/money"
	"seamwright/service/pricelist"
	"seamwright/store/codetable"
)

// knownItems is what the rows of a list are held against: every item that is sold, its packs, the supplier's article
// numbers, and what the list said of each pack. It is read once a list and lies in a few large pieces: with a million
// packs it takes about 90 MB, with the few ten thousand of a usual shop a few.
type knownItems struct {
	codes    codetable.Table // of items
	items    []knownItem
	packs    []knownPack
	articles codetable.Table
	meant    []int32 // the pack that each article means
	sizes    wordTable
	contents []money.Quantity // of the sizes
	words    wordTable        // units, and why rows are held; the first is empty
	boards   []board          // of the items; nil: not asked for yet
	own      []money.Quantity // for ownOf; used again
}

// knownItem is an item. Its packs hang together, smallest first.
type knownItem struct {
	pack int32 // the first; none: noPack
	unit int32 // a word
}

// knownPack is a pack and what the list said of it so far.
type knownPack struct {
	item, next, size int32
	line             int32 // of the first row about it; 0: none yet
	amount           int64 // of that row, in ten-thousandths
	per              int32 // a word: the unit that row gives the price for
	hold             int32 // a word: why the row must be held, or empty
	conflict         bool  // rows of the list give it different prices
}

// board is what turns a price by the length or the surface into one by the board foot.
type board struct{ thickness, width measure.Length }

const noPack = -1

const selectKnownItems = `SELECT code, unit FROM item WHERE retired_at IS NULL`

const selectKnownPacks = `SELECT item, size FROM item_pack WHERE retired_at IS NULL`

const selectKnownArticles = `SELECT article, item, size FROM supplier_article WHERE supplier = `

// Wood by length is reckoned by the width that it is measured and sold by.
const selectKnownBoards = `SELECT code, rough_thickness_mm, greatest(working_width_mm, measured_width_mm) FROM lumber`

// selectKnownCount is about how many items and packs there are, to have the room at once.
const selectKnownCount = `
SELECT coalesce(max(reltuples) FILTER (WHERE relname = 'item'), 0)::int, coalesce(max(reltuples) FILTER (WHERE relname = 'item_pack'), 0)::int
FROM pg_class
WHERE oid IN ('item'::regclass, 'item_pack'::regclass)`

func readKnown(ctx context.Context, conn *pgx.Conn, supplier string) (*knownItems, error) {
	var items, packs int
	if err := conn.QueryRow(ctx, selectKnownCount).Scan(&items, &packs); err != nil {
		return nil, err
	}
	k := &knownItems{}
	k.codes.Reserve(max(items, 0))
	k.items, k.packs = make([]knownItem, 0, max(items, 0)), make([]knownPack, 0, max(packs, 0))
	k.words.number("")
	if err := copyOut(ctx, conn, selectKnownItems, k.item); err != nil {
		return nil, fmt.Errorf("read items: %w", err)
	}
	if err := copyOut(ctx, conn, selectKnownPacks, k.reader().pack); err != nil {
		return nil, fmt.Errorf("read packs: %w", err)
	}
	name, err := conn.PgConn().EscapeString(supplier)
	if err != nil {
		return nil, err
	}
	if err := copyOut(ctx, conn, selectKnownArticles+"'"+name+"'", k.reader().article); err != nil {
		return nil, fmt.Errorf("read articles: %w", err)
	}
	return k, nil
}

func (k *knownItems) item(cells [][]byte) error {
	if k.codes.Add(cells[0]) == len(k.items) {
		k.items = append(k.items, knownItem{pack: noPack, unit: k.words.of(cells[1])})
	}
	return nil
}

// knownReader finds what rows of a table or a list speak of.
type knownReader struct {
	*knownItems
	at codetable.Cursor
}

func (k *knownItems) reader() *knownReader { return &knownReader{k, codetable.Cursor{Table: &k.codes}} }

// pack adds a pack to its item; packs of items that are retired are passed over.
func (k *knownReader) pack(cells [][]byte) error {
	item := k.at.Find(cells[0])
	if item < 0 {
		return nil
	}
	size, err := k.size(cells[1])
	if err != nil {
		return err
	}
	after := &k.items[item].pack
	for *after != noPack && k.contents[k.packs[*after].size].Cmp(k.contents[size]) < 0 {
		after = &k.packs[*after].next
	}
	next := *after
	*after = int32(len(k.packs))
	k.packs = append(k.packs, knownPack{item: int32(item), next: next, size: size})
	return nil
}

// size returns the number of a pack's content. The database writes equal contents alike.
func (k *knownItems) size(text []byte) (int32, error) {
	n := k.sizes.of(text)
	if int(n) == len(k.contents) {
		content, err := money.ParseQuantity(string(text))
		if err != nil {
			return 0, err
		}
		k.contents = append(k.contents, content)
	}
	return n, nil
}

func (k *knownReader) article(cells [][]byte) error {
	pack := k.packOf(cells[1], cells[2])
	if pack == noPack {
		return nil
	}
	if k.articles.Add(cells[0]) == len(k.meant) {
		k.meant = append(k.meant, pack)
	}
	return nil
}

// packOf finds a pack by its item's code and its content as the database writes it. It changes nothing.
func (k *knownReader) packOf(code, size []byte) int32 {
	item := k.at.Find(code)
	if item < 0 {
		return noPack
	}
	pack := k.items[item].pack
	for pack != noPack && k.sizes.at(k.packs[pack].size) != string(size) {
		pack = k.packs[pack].next
	}
	return pack
}

// readBoards adds the measures of lumber, once a row needs them.
func (k *knownItems) readBoards(ctx context.Context, conn *pgx.Conn) error {
	k.boards = make([]board, len(k.items))
	lumber := k.reader()
	return copyOut(ctx, conn, selectKnownBoards, func(cells [][]byte) error {
		item := lumber.at.Find(cells[0])
		if item < 0 {
			return nil
		}
		thickness, err := parseMillimetres(cells[1])
		if err != nil {
			return err
		}
		width, err := parseMillimetres(cells[2])
		k.boards[item] = board{thickness, width}
		return err
	})
}

func parseMillimetres(text []byte) (measure.Length, error) {
	x, err := strconv.ParseFloat(string(text), 64)
	return measure.Length(x), err
}

func (k *knownItems) code(p *knownPack) string { return k.codes.At(int(p.item)) }

func (k *knownItems) content(p *knownPack) money.Quantity { return k.contents[p.size] }

// ownOf is an item for conversion. It is good until the next call.
func (k *knownItems) ownOf(item int32) pricelist.Own {
	k.own = k.own[:0]
	for pack := k.items[item].pack; pack != noPack; pack = k.packs[pack].next {
		k.own = append(k.own, k.content(&k.packs[pack]))
	}
	own := pricelist.Own{Unit: catalogue.Unit(k.words.at(k.items[item].unit)), Packs: k.own}
	if k.boards != nil {
		own.RoughThickness, own.WorkingWidth = k.boards[item].thickness, k.boards[item].width
	}
	return own
}
