package shelf

import (
	"bytes"
	"encoding/csv"
	"net/http"
	"strings"

	"github.com/labstack/echo/v4"

	"seamwright/api/web"
	"seamwright/service/catalogue"
	"seamwright/service/fault"
	"seamwright/service/sheet"
	"seamwright/store/builtin"
)

// getAdditions sends the rows of a part that new databases begin with and this one lacks, in the form of an export: what
// the shop wants of them it loads as an import. What it has retired it does not lack.
func (s *room) getAdditions(c *web.Call) error {
	name, isCSV := strings.CutSuffix(c.Param("file"), ".csv")
	part := sheet.Find(name)
	if part == nil || !isCSV || part == sheet.Settings || part == sheet.TaxRegions {
		return &fault.Fault{Kind: fault.NotFound, Detail: "There are no additions of that name.",
			Fix: "There are those of species, fasteners, materials, labour-roles, labour-standards, climate-profiles, places and prices, each with .csv."}
	}
	rows, err := builtin.Rows(part)
	if err != nil {
		return err
	}
	has, err := s.Store.Shelf.Keys(c.Ctx(), part)
	if err != nil {
		return err
	}
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	if err := w.Write(part.Head()); err != nil {
		return err
	}
	for _, row := range rows {
		if has[row.Key()] || part == sheet.Prices && !unpriced(c.Cat, row.Get("item")) {
			continue
		}
		if err := w.Write(row.Record("")); err != nil {
			return err
		}
	}
	w.Flush()
	c.Response().Header().Set(echo.HeaderContentDisposition, `attachment; filename="additions-`+part.Name+`.csv"`)
	return c.Blob(http.StatusOK, "text/csv; charset=utf-8", out.Bytes())
}

// unpriced reports whether an item is in use that never had a price: only there the demo's may stand in.
func unpriced(cat *catalogue.Snapshot, item string) bool {
	var packs []catalogue.Pack
	if f := cat.FastenerByCode(item); f != nil {
		packs = f.Packs
	} else if m := cat.MaterialByCode(item); m != nil {
		packs = m.Packs
	}
	for i := range packs {
		if len(packs[i].Prices) > 0 {
			return false
		}
	}
	return len(packs) > 0
}
