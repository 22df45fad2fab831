package lists

import (
	"context"
	"fmt"
	"runtime"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"

	"seamwright/service/money"
	"seamwright/service/pricelist"
	"seamwright/service/spell"
)

// resolver finds what the rows of a list mean.
type resolver struct {
	ctx      context.Context // of the reading
	conn     *pgx.Conn
	beside   func() error // waits until the connection is free
	known    *knownReader
	hints    int      // given so far
	hintable []string // codes of items, for finding what a mistyped one may have meant
}

// mostHints is for how many unknown codes the nearest known ones are looked up.
const mostHints = 20

// unknownItem and unknownArticle are why rows are rejected that name what nobody knows.
const (
	unknownItem    = "the catalogue has no such item on sale"
	unknownArticle = "nobody has said which item this article of the supplier is"
)

// resolve finds the pack that a row means, and its price.
func (s *resolver) resolve(r *pricelist.Row) (*knownPack, money.UnitPrice, *pricelist.Rejection, error) {
	var none money.UnitPrice
	k := s.known
	only := int32(noPack)
	var item int32
	if r.Item != "" {
		if item = int32(k.at.FindText(r.Item)); item < 0 {
			return nil, none, &pricelist.Rejection{Line: r.Line, Column: "item", Text: r.Item,
				Reason: unknownItem + s.hint(r.Item)}, nil
		}
	} else {
		article := k.articles.FindText(r.Article)
		if article < 0 {
			return nil, none, &pricelist.Rejection{Line: r.Line, Column: "article", Text: r.Article,
				Reason: unknownArticle + s.hint(r.Article)}, nil
		}
		only = k.meant[article]
		item = k.packs[only].item
	}
	if k.boards == nil && s.needsBoards(r, item) {
		if err := s.beside(); err != nil { // the connection is in use until then
			return nil, none, nil, err
		}
		if err := k.readBoards(s.ctx, s.conn); err != nil {
			return nil, none, nil, fmt.Errorf("read lumber: %w", err)
		}
	}
	own := k.ownOf(item)
	if only != noPack {
		k.own = append(k.own[:0], k.content(&k.packs[only]))
		own.Packs = k.own
	}
	converted, rejection := pricelist.Convert(r, own)
	if rejection != nil || only != noPack {
		return packAt(k.knownItems, only), converted.Price, rejection, nil
	}
	pack := k.items[item].pack
	for pack != noPack && k.content(&k.packs[pack]).Cmp(converted.PackSize) != 0 {
		pack = k.packs[pack].next
	}
	return packAt(k.knownItems, pack), converted.Price, nil, nil
}

func packAt(k *knownItems, n int32) *knownPack {
	if n == noPack {
		return nil
	}
	return &k.packs[n]
}

// needsBoards reports whether it may take an item's measures to convert a row, or to say why it cannot be.
func (s *resolver) needsBoards(r *pricelist.Row, item int32) bool {
	return r.Per != "" && r.Per != pricelist.Pack && string(r.Per) != s.known.words.at(s.known.items[item].unit)
}

// hint asks about known codes near an unknown one, for the first few.
func (s *resolver) hint(code string) string {
	if s.hints++; s.hints > mostHints || len(code) > 64 {
		return ""
	}
	if s.hintable == nil {
		s.hintable = s.known.codes.All()
	}
	var near []string
	for part := range slices.Chunk(s.hintable, 2048) { // the nearest of all are among the nearest of their parts
		near = append(near, spell.Closest(strings.ToLower(code), part, 2)...)
		runtime.Gosched() // others may have the processor
	}
	near = spell.Closest(strings.ToLower(code), near, 2)
	if len(near) == 0 {
		return ""
	}
	return "; did you mean " + strings.Join(near, " or ") + "?"
}
