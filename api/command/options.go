package command

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"seamwright/api/access"
	"seamwright/api/lists"
	"seamwright/service/document/words"
)

// options are what single commands are told.
type options struct {
	version bool
	asJSON  bool
	explain bool

	out      string
	language string
	paper    string

	format  string
	charset string
	list    lists.Upload

	key keyOptions

	noMigrate bool
}

// belongs names the commands that an option is for.
var belongs = map[string]string{
	"json": "estimate prices", "explain": "estimate", "out": "estimate", "language": "estimate", "paper": "estimate",
	"supplier": "prices", "list-date": "prices", "effective-from": "prices", "currency": "prices", "unit": "prices",
	"separator": "prices", "sheet": "prices",
	"decimal-sign": "prices", "format": "prices", "charset": "prices", "replace": "prices", "dry-run": "prices", "by": "prices",
	"name": "keys", "scopes": "keys", "origins": "keys", "publishable": "keys", "test": "keys", "days": "keys", "overlap": "keys",
	"no-migrate": "restore",
}

func (o *options) flags(f *pflag.FlagSet) {
	f.BoolVar(&o.version, "version", false, "print the version and what it was built from, and exit")
	f.BoolVar(&o.asJSON, "json", false, "estimate, prices: print the whole answer as JSON")
	f.BoolVar(&o.explain, "explain", false, "estimate: add the workings to the JSON answer")
	f.StringVar(&o.out, "out", "", "estimate: also write all drawings, documents and tables into `DIR`")
	f.StringVar(&o.language, "language", "", "estimate --out: `LANGUAGE` of the offer: "+
		strings.Join(words.Languages(), ", ")+" (default: the shop's)")
	f.StringVar(&o.paper, "paper", "", "estimate --out: `PAPER` of documents, A4 or Letter (default: the shop's)")
	f.StringVar(&o.list.Supplier, "supplier", "", "prices: `CODE` of the supplier")
	f.StringVar(&o.list.ListDate, "list-date", "", "prices: `DAY` the supplier wrote on the list, or file: "+
		"the day on which the file was last written (default: today)")
	f.StringVar(&o.list.EffectiveFrom, "effective-from", "",
		"prices: `DAY` from which the prices hold (default: the list date)")
	f.StringVar(&o.list.Currency, "currency", "",
		"prices: `CODE` of rows that name no currency (default: the catalogue's)")
	f.StringVar(&o.list.Unit, "unit", "", "prices: `UNIT` of rows that name none (default: the item's own)")
	f.StringVar(&o.list.Separator, "separator", "", "prices: comma, semicolon or tab (default: recognised)")
	f.StringVar(&o.list.DecimalSign, "decimal-sign", "", "prices: point or comma (default: recognised)")
	f.StringVar(&o.format, "format", "", "prices: csv, xlsx, ndjson or json (default: by the file's name)")
	f.StringVar(&o.list.Sheet, "sheet", "", "prices: `NAME` of a workbook's sheet (default: the first that is not hidden)")
	f.StringVar(&o.charset, "charset", "", "prices: `NAME` of a CSV list's encoding, such as windows-1252 (default: utf-8)")
	f.BoolVar(&o.list.Replace, "replace", false, "prices: a corrected list of a day that has one already")
	f.BoolVar(&o.list.DryRun, "dry-run", false, "prices: report what the list would do, change nothing")
	f.StringVar(&o.key.name, "name", "", "keys add: `NAME` of the key, by which the trail knows it")
	f.StringSliceVar(&o.key.scopes, "scopes", nil, "keys add: `SCOPES` of a secret key: "+
		strings.Join(access.Scopes(), " "))
	f.BoolVar(&o.key.test, "test", false, "keys add: a key whose writes are answered as if they were done, and taken back")
	f.BoolVar(&o.key.publishable, "publishable", false, "keys add: a key for web pages, order form only")
	f.StringSliceVar(&o.key.origins, "origins", nil,
		"keys add: `ORIGINS` that a publishable key is bound to, such as https://shop.example")
	f.IntVar(&o.key.days, "days", 0, "keys add: `DAYS` after which the key ends (default: never)")
	f.DurationVar(&o.key.overlap, "overlap", 24*time.Hour, "keys rotate: `TIME` for which both keys are good")
	f.BoolVar(&o.noMigrate, "no-migrate", false, "restore: leave the schema as it was, for the release that it is of")
	f.StringVar(&o.list.By, "by", "command line", "prices: `WHO` loads the list, for the report")
}

// misplaced refuses an option that the command does not have.
func misplaced(f *pflag.FlagSet, command []string) error {
	name := "serve"
	if len(command) > 0 {
		name = command[0]
	}
	var wrong []error
	f.Visit(func(flag *pflag.Flag) {
		if of := belongs[flag.Name]; of != "" && !slices.Contains(strings.Fields(of), name) {
			wrong = append(wrong, fmt.Errorf("--%s is for %s", flag.Name, strings.ReplaceAll(of, " ", " and ")))
		}
	})
	return errors.Join(wrong...)
}
