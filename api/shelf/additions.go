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
	part, err := additionsOf(c.Param("file"))
	if err != nil {
		return err
	}
	file, err := s.additions(c, part)
	if err != nil {
		return err
	}
	c.Response().Header().Set(echo.HeaderContentDisposition, `attachment; filename="additions-`+part.Name+`.csv"`)
	return c.Blob(http.StatusOK, "text/csv; charset=utf-8", file)
}

// additionsOf is the part of a file's name. Settings come by themselves, and no tax is built in.
func additionsOf(file string) (*sheet.Part, error) {
	name, isCSV := strings.CutSuffix(file, ".csv")
	part := sheet.Find(name)
	if part == nil || !isCSV || part == sheet.Settings || part == sheet.TaxRegions {
		return nil, &fault.Fault{Kind: fault.NotFound, Detail: "There are no additions of that name.",
			Fix: "There are those of species, fasteners, materials, labour-roles, labour-standards, climate-profiles, places and prices, each with .csv."}
	}
	return part, nil
}

// additions is the file.
func (s *room) additions(c *web.Call, part *sheet.Part) ([]byte, error) {
	rows, err := builtin.Rows(part)
	if err != nil {
		return nil, err
	}
	has, err := s.Store.Shelf.Keys(c.Ctx(), part)
	if err != nil {
		return nil, err
	}
	records := [][]string{part.Head()}
	for _, row := range rows {
		if !has[row.Key()] && (part != sheet.Prices || unpriced(c.Cat, row.Get("item"))) {
			records = append(records, row.Record(""))
		}
	}
	var out bytes.Buffer
	err = csv.NewWriter(&out).WriteAll(records)
	return out.Bytes(), err
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
