package shelf

import (
	"cmp"
	"context"
	"fmt"
	"sync"

	"github.com/jackc/pgx/v5"

	"seamwright/service/catalogue"
	"seamwright/service/sheet"
	"seamwright/store/db"
)

// Load reads the whole catalogue at one revision, indexed and checked. Retired rows are left out. A catalogue
// that breaks a rule is an error that names every table, row and column that is wrong.
func (s *Store) Load(ctx context.Context) (*catalogue.Snapshot, error) { return s.load(ctx, s.db.Pool) }

// beginner is a pool or a single connection.
type beginner interface {
	BeginTx(ctx context.Context, options pgx.TxOptions) (pgx.Tx, error)
}

func (s *Store) load(ctx context.Context, on beginner) (snapshot *catalogue.Snapshot, err error) {
	err = pgx.BeginTxFunc(ctx, on, db.AsOfNow, func(tx pgx.Tx) error {
		second, done, err := s.beside(ctx, tx)
		if err != nil {
			return fmt.Errorf("load catalogue: %w", err)
		}
		defer done()
		snapshot, err = loadIn(ctx, tx, second)
		return err
	})
	return snapshot, err
}

// loadIn reads the catalogue as a transaction sees it; packs and prices, which are many, beside the rest if a second
// one sees the same. If not, no other may change the catalogue meanwhile: the queries are several.
func loadIn(ctx context.Context, tx, second pgx.Tx) (*catalogue.Snapshot, error) {
	goods, prices := newLoading(), newLoadedPrices()
	var beside sync.WaitGroup
	var goodsErr, pricesErr error
	if second != nil {
		beside.Go(func() { pricesErr = readAll(ctx, second, prices.queries()) })
	}
	if goodsErr = readAll(ctx, tx, goods.queries()); goodsErr == nil {
		if second == nil {
			beside.Go(func() { goods.order(ctx) })
			pricesErr = readAll(ctx, tx, prices.queries())
		} else {
			goods.order(ctx)
		}
	}
	beside.Wait()
	if err := cmp.Or(goodsErr, pricesErr); err != nil {
		return nil, fmt.Errorf("load catalogue: %w", err)
	}
	return goods.finish(ctx, prices)
}

// loadAfter is the catalogue after an edit that changed nothing: the one that is known, when its revision is still in
// force. Else it is read, on its own, or within the context's transaction, which must not take a second connection from
// the pool. There no other edit may commit while the queries run, which the lock on the revision sees to.
func (s *Store) loadAfter(ctx context.Context, known *catalogue.Snapshot) (*catalogue.Snapshot, error) {
	tx, within := db.TransactionOf(ctx)
	if within {
		if err := db.KeepRevision(ctx, tx); err != nil {
			return nil, fmt.Errorf("load catalogue: %w", err)
		}
	}
	if known != nil {
		switch revision, err := db.Revision(ctx, s.db.On(ctx)); {
		case err != nil:
			return nil, fmt.Errorf("load catalogue: %w", err)
		case revision == known.Revision:
			return known, nil
		}
	}
	if within {
		return loadIn(ctx, tx, nil)
	}
	return s.Load(ctx)
}

// queries is all there is but packs and prices.
func (l *loading) queries() []query {
	s := &l.snapshot
	return append([]query{
		{"catalogue_revision", selectRevisionAndSize, l.revision},
		{"setting", selectSettings, l.setting},
		things(l, sheet.Species, "code", &s.Species, func(v *catalogue.Species) *int64 { return &v.Version }),
		{"species_property", selectSpeciesProperties, l.property},
		things(l, sheet.LabourRoles, "code", &s.LabourRoles, func(v *catalogue.LabourRole) *int64 { return &v.Version }),
		things(l, sheet.LabourStandards, "place, code", &s.LabourStandards,
			func(v *catalogue.LabourStandard) *int64 { return &v.Version }),
		things(l, sheet.ClimateProfiles, "code", &s.ClimateProfiles,
			func(v *catalogue.ClimateProfile) *int64 { return &v.Version }),
		things(l, sheet.Places, "code", &s.Places, func(v *catalogue.Place) *int64 { return &v.Version }),
		things(l, sheet.TaxRegions, "code", &s.TaxRegions, func(v *catalogue.TaxRegion) *int64 { return &v.Version }),
		l.item(),
		things(l, sheet.Fasteners, "item.code", &s.Fasteners, func(v *catalogue.Fastener) *int64 { return &v.Version }),
	}, l.kinds()...)
}

func (t *loadedPrices) queries() []query {
	return []query{
		{"price", selectPricesFrom, t.start},
		{"item_pack", selectPacks, t.pack},
		{"price", selectPrices, t.price},
		{"price_list_day", selectListDays, t.listDay},
		{"price_silence", selectSilences, t.silence},
	}
}
