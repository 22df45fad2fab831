package shelf_test

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"
	"golang.org/x/sync/errgroup"

	"seamwright/service/catalogue"
	"seamwright/service/measure"
	"seamwright/service/wood"
	"seamwright/store/storetest"
)

// The species that callers rely on.
var promised = strings.Fields(`maple_sugar maple_red walnut_black cherry_black oak_white oak_red ash_white birch_yellow
	beech_american hickory poplar_yellow alder_red sycamore_american elm_american basswood_american butternut mahogany
	teak sapele douglas_fir pine_eastern_white pine_ponderosa cedar_western_red`)

func TestTheSeededCatalogueHasWhatIsPromised(t *testing.T) {
	t.Parallel()
	s, _ := storetest.Setup(t)
	snapshot, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)
	for _, code := range promised {
		require.NotNil(t, snapshot.SpeciesByCode(code), code)
		for _, quarters := range []string{"4_4", "6_4", "8_4"} {
			m := snapshot.MaterialByCode("lumber_" + code + "_" + quarters)
			require.NotNil(t, m, "%s %s", code, quarters)
			require.Equal(t, code, m.Lumber.Species)
			require.GreaterOrEqual(t, len(m.Lumber.StockLengths), 5)
		}
	}
	require.Equal(t, 10.0/12, float64(snapshot.MaterialByCode("lumber_maple_sugar_8_4").Lumber.ClearYield), "FAS, exactly")
	require.NotNil(t, snapshot.ClimateByCode(snapshot.Settings.DefaultProfile))
	require.NotNil(t, snapshot.MaterialByCode("panel_maple_sugar_38x660x2438"))
	require.NotNil(t, snapshot.RoleByCode("maker"))
	kinds := make(map[catalogue.FastenerKind]int)
	for _, f := range snapshot.Fasteners {
		kinds[f.Kind]++
	}
	require.Len(t, kinds, 12, "every kind of hardware, and what carries a top")
}

func TestSnapshotListsAreSortedAndPriced(t *testing.T) {
	t.Parallel()
	s, _ := storetest.Setup(t)
	snapshot, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)
	require.True(t, slices.IsSortedFunc(snapshot.Species, func(a, b catalogue.Species) int {
		return strings.Compare(a.Code, b.Code)
	}))
	require.True(t, slices.IsSortedFunc(snapshot.Fasteners, func(a, b catalogue.Fastener) int {
		return strings.Compare(a.Code, b.Code)
	}))
	require.True(t, slices.IsSortedFunc(snapshot.Materials, func(a, b catalogue.Material) int {
		return strings.Compare(a.Code, b.Code)
	}))
	require.True(t, slices.IsSortedFunc(snapshot.ClimateProfiles,
		func(a, b catalogue.ClimateProfile) int { return strings.Compare(a.Code, b.Code) }))
	priced := func(code string, packs []catalogue.Pack) {
		require.NotEmpty(t, packs, code)
		for i, p := range packs {
			require.Len(t, p.Prices, 2, code)
			require.Less(t, p.Prices[0].ValidFrom, p.Prices[1].ValidFrom, code)
			require.True(t, i == 0 || packs[i-1].Size.Cmp(p.Size) < 0, "%s: packs ascend", code)
		}
	}
	for _, m := range snapshot.Materials {
		priced(m.Code, m.Packs)
	}
	for _, f := range snapshot.Fasteners {
		priced(f.Code, f.Packs)
	}
}

func TestLoadKeepsUnitsAndDigits(t *testing.T) {
	t.Parallel()
	s, _ := storetest.Setup(t)
	snapshot, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)

	lumber := snapshot.MaterialByCode("lumber_walnut_black_10_4")
	require.Equal(t, catalogue.BoardFoot, lumber.Unit)
	require.InDelta(t, 2.5, lumber.Lumber.RoughThickness.Inches(), 1e-12)
	require.InDelta(t, 5, lumber.Lumber.WorkingWidth.Inches(), 1e-12)
	require.True(t, (6 * measure.Foot).Near(lumber.Lumber.StockLengths[0]))

	screw := snapshot.FastenerByCode("pocket_screw_10_75")
	require.Equal(t, []measure.Length{75, 4.826, 12.7, 12.7, 13, 38, 38, 52}, []measure.Length{
		screw.Length, screw.ThreadDiameter, screw.HeadDiameter, screw.WasherDiameter, screw.BoreDiameter, screw.Penetration,
		screw.LeastThickness, screw.GreatestThickness})
	require.True(t, screw.MayMixWithBolt)
	bolt := snapshot.FastenerByCode("draw_bolt_100")
	require.Equal(t, []measure.Length{100, 8, 35, 20, 40, 28, 26.35}, []measure.Length{
		bolt.Length, bolt.BoltDiameter, bolt.RecessDiameter, bolt.RecessDepth, bolt.RecessDistance, bolt.BearingDiameter,
		bolt.LeastThickness})
	require.Equal(t, measure.Force(1000), bolt.WorkingLoad)
	biscuit := snapshot.FastenerByCode("biscuit_10")
	require.Equal(t, []measure.Length{53, 19, 4, 16}, []measure.Length{biscuit.Width, biscuit.Length, biscuit.Thickness,
		biscuit.LeastThickness})

	oil := snapshot.MaterialByCode("finish_tung_oil")
	require.Equal(t, catalogue.Finish{System: "tung_oil", Coverage: 14 * measure.SquareMetre, DryHours: 24, Coats: 4,
		SelfHeat: true, CureDays: 30, Excluding: 2}, *oil.Finish)
	require.Equal(t, "0.375", oil.Packs[0].Size.String())
	glue := snapshot.MaterialByCode("glue_wood_water_resistant")
	require.Equal(t, catalogue.Glue{Spread: 5.5 * measure.SquareMetre, ClampHours: 1}, *glue.Glue)
	cloth := snapshot.MaterialByCode("sundry_oil_cloth")
	require.Equal(t, catalogue.Sundry{Driver: catalogue.PerCoatSquare, Use: 0.5, Finish: "hardwax_oil"}, *cloth.Sundry)

	house := snapshot.ClimateByCode("heated_house")
	require.Equal(t, catalogue.Climate{IsAir: true, Air: catalogue.Air{Humidity: 36, Temperature: 21}}, house.Dry)
	require.Equal(t, catalogue.Climate{IsAir: true, Air: catalogue.Air{Humidity: 45, Temperature: 22}}, house.Humid)
	require.Equal(t, "48.0000", snapshot.RoleByCode("maker").Rate.String())
}

// What a step follows stands before it in the usual order of work, and factors stand where they belong.
func TestSeededLabourIsInOrder(t *testing.T) {
	t.Parallel()
	s, _ := storetest.Setup(t)
	snapshot, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)
	order := make(map[string]int)
	for _, step := range snapshot.LabourStandards {
		for _, before := range step.After {
			require.Contains(t, order, before, "%s follows %s", step.Code, before)
			require.Less(t, order[before], step.Order)
		}
		order[step.Code] = step.Order
		require.Equal(t, strings.HasPrefix(step.Code, "seam_cut_"), step.ByTool, "%s: only a seam cut depends on the tool",
			step.Code)
		if step.ByTool {
			require.Contains(t, step.Note, "One uninterrupted pass")
		}
	}
	require.Less(t, order["profile_edges_before"], order["trial_assembly"], "a miter is profiled before joining")
	require.Greater(t, order["profile_edges_after"], order["trial_assembly"], "a butt with a remedy after it")
	require.GreaterOrEqual(t, len(order), 40)
}

func TestPriceOfADay(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	storetest.Exec(t, conn, `INSERT INTO supplier (code, name) VALUES ('second_yard', 'Second yard (invented)')`)
	storetest.Exec(t, conn, `INSERT INTO price (item, size, supplier, valid_from, currency, amount) VALUES
		('lumber_maple_sugar_8_4', 1, 'second_yard', '2026-10-01', 'USD', 9.15),
		('lumber_maple_sugar_8_4', 1, 'second_yard', '2027-03-01', 'USD', 9.9955)`)
	snapshot, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)
	pack := &snapshot.MaterialByCode("lumber_maple_sugar_8_4").Packs[0]
	for _, c := range []struct {
		day, amount, supplier string
		ok                    bool
	}{
		{day: "2025-12-31"},
		{"2026-01-01", "9.1700", "demo", true},
		{"2026-09-30", "9.1700", "demo", true},
		{"2026-10-01", "9.1500", "second_yard", true}, // both suppliers ask a new price: the lower one
		{"2027-02-28", "9.1500", "second_yard", true},
		{"2027-03-01", "9.9955", "second_yard", true},
	} {
		price, ok := pack.PriceAsOf(catalogue.Date(c.day))
		require.Equal(t, c.ok, ok, c.day)
		if ok {
			require.Equal(t, c.amount, price.Amount.String(), c.day)
			require.Equal(t, c.supplier, price.Supplier, c.day)
		}
	}
}

func TestRetiredRowsAreNotLoaded(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	before, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)
	storetest.Exec(t, conn, `UPDATE item SET retired_at = '2026-11-25' WHERE code IN ('panel_ash_white_25x648x1829', 'dowel_10x40', 'sundry_silicone')`)
	storetest.Exec(t, conn, `UPDATE climate_profile SET retired_at = '2026-11-25' WHERE code = 'damp_coast'`)
	storetest.Exec(t, conn, `INSERT INTO item_pack (item, size, retired_at) VALUES ('biscuit_0', 7, '2026-11-25')`)
	storetest.Exec(t, conn, `INSERT INTO price (item, size, supplier, valid_from, currency, amount) VALUES ('biscuit_0', 7, 'demo', '2026-11-01', 'EUR', 1)`)
	storetest.Exec(t, conn, `UPDATE price SET currency = 'EUR' WHERE item = 'dowel_10x40'`)
	storetest.Exec(t, conn, `INSERT INTO item (code, kind, name, unit, source) VALUES ('of_no_kind', 'lumber', 'Nothing known of it', 'board_foot', 'demo')`)
	after, err := s.Shelf.Load(context.Background())
	require.NoError(t, err, "a currency that only retired items and packs have is no matter")
	require.Len(t, after.Materials, len(before.Materials)-2)
	require.Nil(t, after.MaterialByCode("of_no_kind"))
	require.Equal(t, before.FastenerByCode("biscuit_0").Packs, after.FastenerByCode("biscuit_0").Packs,
		"without the retired one")
	require.Nil(t, after.FastenerByCode("dowel_10x40"))
	require.Nil(t, after.ClimateByCode("damp_coast"))
	require.NotNil(t, before.FastenerByCode("dowel_10x40"), "an older snapshot does not change")
}

// What the database cannot see, the load does, and says where.
func TestACatalogueThatBreaksARuleIsRefused(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, sql, says string }{
		{"setting out of bounds", `UPDATE setting SET value = '900' WHERE key = 'tax'`, `table setting: setting tax is "900"; it must be a number from 0 to 50`},
		{"setting missing", `DELETE FROM setting WHERE key = 'kerf'`, "table setting: setting kerf is missing"},
		{"climate of the settings missing", `UPDATE setting SET value = 'on_the_moon' WHERE key = 'default_climate'`,
			"table setting, row default_climate, column value: there is no climate profile on_the_moon"},
		{"unknown source of a number",
			`UPDATE species_property SET source = 'hearsay' WHERE species = 'teak' AND property = 'radial'`,
			`table species_property, row teak radial, column source: "hearsay" is not in the list of sources`},
		{"unknown source of a climate", `UPDATE climate_profile SET source = 'hearsay' WHERE code = 'damp_coast'`,
			`table climate_profile, row damp_coast, column source: "hearsay"`},
		{"species retired under its lumber", `UPDATE species SET retired_at = '2026-11-25' WHERE code = 'teak'`,
			"table lumber, row lumber_teak_4_4, column species: there is no species teak, or it is retired"},
		{"species retired under its panels", `UPDATE species SET retired_at = '2026-11-25' WHERE code = 'ash_white'`,
			"table panel, row panel_ash_white_25x648x1829, column species: there is no species ash_white"},
		{"finish retired under its sundries", `UPDATE item SET retired_at = '2026-11-25' WHERE code = 'finish_tung_oil'`,
			"table sundry, row sundry_oil_cloth_tung, column finish_system: there is no finish of the system tung_oil"},
		{"role retired under its steps", `UPDATE labour_role SET retired_at = '2026-11-25' WHERE code = 'finisher'`,
			"table labour_standard, row finish_coat, column role: there is no role finisher"},
		{"step retired that others follow", `UPDATE labour_standard SET retired_at = '2026-11-25' WHERE code = 'glue_up'`,
			"table labour_standard_after, row flatten, column follows: there is no step glue_up"},
		{"steps in a circle", `INSERT INTO labour_standard_after (step, follows) VALUES ('dry_layout', 'glue_up')`,
			"not valid: table labour_standard_after, row dry_layout, column follows: the step follows itself, directly or through others; table labour_standard_after, row glue_up, column"},
		{"price in another currency", `UPDATE price SET currency = 'EUR' WHERE item = 'biscuit_0' AND valid_from = '2026-01-01'`, "table price, row biscuit_0, column currency: EUR, but the catalogue's currency is USD"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			s, conn := storetest.Setup(t)
			storetest.Exec(t, conn, c.sql)
			snapshot, err := s.Shelf.Load(context.Background())
			require.ErrorContains(t, err, "catalogue revision 3 is not valid: ")
			require.ErrorContains(t, err, c.says)
			require.Nil(t, snapshot)
		})
	}
}

// A newer version beside this one may have brought properties that this one does not know: the way back stays open.
func TestPropertiesOfANewerVersionArePassedOver(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	before, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)
	storetest.Exec(t, conn, `ALTER TABLE species_property DROP CONSTRAINT species_property_value_in_range`)
	storetest.Exec(t, conn, `INSERT INTO species_property (species, property, value, source, verified) VALUES ('teak', 'scent', 3, 'of tomorrow', false)`)
	after, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)
	require.Equal(t, before.SpeciesByCode("teak"), after.SpeciesByCode("teak"))
}

func TestManyProblemsAreCutShort(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	storetest.Exec(t, conn, `UPDATE species SET retired_at = '2026-11-25'`)
	_, err := s.Shelf.Load(context.Background())
	require.ErrorContains(t, err, "; and 557 more")
	require.Less(t, len(err.Error()), 2000)
}

// Rows that always change together are never seen apart, whether they are read over one connection or over two.
func TestASnapshotIsOfOneMoment(t *testing.T) {
	t.Parallel()
	for name, most := range map[string]int{"over one connection": 1, "over two": 8} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			base := storetest.New(t)
			s, conn := storetest.Open(t, storetest.Pooled(t, base, most)), storetest.Dial(t, base)
			change := func(tx pgx.Tx, state int) error {
				for _, sql := range []string{
					`UPDATE species SET name = 'state ' || $1::int WHERE code = 'teak'`,
					`UPDATE labour_role SET name = 'state ' || $1::int WHERE code = 'maker'`,
					`UPDATE item SET name = 'state ' || $1::int WHERE code = 'biscuit_0'`,
					`UPDATE price SET amount = 1 + $1::int WHERE item = 'biscuit_0'`,
				} {
					if _, err := tx.Exec(context.Background(), sql, state); err != nil {
						return err
					}
				}
				return nil
			}
			next := func(state int) error {
				return pgx.BeginFunc(context.Background(), conn, func(tx pgx.Tx) error { return change(tx, state) })
			}
			require.NoError(t, next(0))
			ctx, cancel := context.WithCancel(context.Background())
			var writer errgroup.Group
			writer.Go(func() error {
				for i := 1; ctx.Err() == nil; i++ {
					if err := next(i); err != nil {
						return err
					}
				}
				return nil
			})
			seen := make(map[string]bool)
			for range 40 {
				snapshot, err := s.Shelf.Load(context.Background())
				require.NoError(t, err)
				name := snapshot.SpeciesByCode("teak").Name
				require.Equal(t, name, snapshot.RoleByCode("maker").Name)
				biscuit := snapshot.FastenerByCode("biscuit_0")
				require.Equal(t, name, biscuit.Name)
				var state int
				_, err = fmt.Sscanf(name, "state %d", &state)
				require.NoError(t, err)
				for _, p := range biscuit.Packs[0].Prices {
					require.Equal(t, fmt.Sprintf("%d.0000", 1+state), p.Amount.String(), name)
				}
				seen[name] = true
			}
			cancel()
			require.NoError(t, writer.Wait())
			require.Greater(t, len(seen), 5, "it did change meanwhile")
		})
	}
}

// A second connection is used when there is one, and not for a change that is seen while others are answered.
func TestTheCatalogueIsReadOverTwoConnections(t *testing.T) {
	t.Parallel()
	s, conn := storetest.Setup(t)
	// on a machine whose cores are taken, opening one can take longer than the service waits for it
	s.Shelf.WaitBeside(time.Minute)
	before := s.Pool.Stat().AcquireCount()
	_, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)
	require.Equal(t, before+2, s.Pool.Stat().AcquireCount())

	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	catalogue, err := s.Shelf.Watch(ctx)
	require.NoError(t, err)
	s.Answered(time.Now().Add(time.Hour))
	before = s.Pool.Stat().AcquireCount()
	storetest.Exec(t, conn, `UPDATE species SET name = 'Teak, changed' WHERE code = 'teak'`)
	storetest.Soon(t, "the change is seen",
		func() bool { return catalogue.Snapshot().SpeciesByCode("teak").Name == "Teak, changed" })
	require.Equal(t, before, s.Pool.Stat().AcquireCount(), "the watch has a connection of its own")
}

// A second connection that cannot be had soon is done without.
func TestTheCatalogueIsReadOverOneConnectionWhenNoOtherIsFree(t *testing.T) {
	t.Parallel()
	s := storetest.Open(t, storetest.Pooled(t, storetest.New(t), 1))
	before := s.Pool.Stat().AcquireCount()
	_, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)
	require.Equal(t, before+1, s.Pool.Stat().AcquireCount())
}

// Loads that each want two connections of a pool that has few do not wait for each other for ever.
func TestManyLoadsShareFewConnections(t *testing.T) {
	t.Parallel()
	s := storetest.Open(t, storetest.Pooled(t, storetest.New(t), 2))
	want, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	var loads errgroup.Group
	for range 12 {
		loads.Go(func() error {
			got, err := s.Shelf.Load(ctx)
			for ctx.Err() == nil && errors.Is(err, context.DeadlineExceeded) {
				// a call that waits long for its first connection is refused, which a busy machine's loads do
				got, err = s.Shelf.Load(ctx)
			}
			if err == nil && !reflect.DeepEqual(want, got) {
				err = errors.New("another catalogue")
			}
			return err
		})
	}
	require.NoError(t, loads.Wait())
}

// Common practice: a counter-deep slab in a heated house moves about 1/8 in over a year. The demo profile is made
// to say the same of flat-sawn sugar maple, 25-1/2 in deep; a regulated house less, a damp or dry one more.
func TestAHeatedHouseMovesACounterByAnEighthOfAnInch(t *testing.T) {
	t.Parallel()
	s, _ := storetest.Setup(t)
	snapshot, err := s.Shelf.Load(context.Background())
	require.NoError(t, err)
	maple := snapshot.SpeciesByCode("maple_sugar")
	year := func(code string) float64 {
		p := snapshot.ClimateByCode(code)
		dry, err := wood.EMC(p.Dry.Air.Humidity, p.Dry.Air.Temperature)
		require.NoError(t, err)
		humid, err := wood.EMC(p.Humid.Air.Humidity, p.Humid.Air.Temperature)
		require.NoError(t, err)
		return 25.5 * wood.StrainByCoefficient(maple.Tangential.Value, dry, humid)
	}
	require.InDelta(t, 0.125, year("heated_house"), 1.0/64, "inches, as near as a tape tells")
	require.Less(t, year("well_regulated_house"), year("heated_house"))
	require.Greater(t, year("well_regulated_house"), 0.0)
	for _, code := range []string{"dry_winter_house", "damp_coast", "dry_southwest", "unheated_room",
		"uninsulated_workshop"} {
		require.Greater(t, year(code), year("heated_house"), code)
	}
}
