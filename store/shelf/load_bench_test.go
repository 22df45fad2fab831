package shelf_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/store/storetest"
)

// Fifty thousand materials, each with a pack and two prices, must be read in under 300 ms: that much later than
// a change a big shop's instances know of it.
func BenchmarkLoadFiftyThousandMaterials(b *testing.B) {
	s, conn := storetest.Setup(b)
	const many = 50_000
	for _, sql := range []string{
		`INSERT INTO item (code, kind, name, unit, source)
		 SELECT 'lumber_made_up_' || n, 'lumber', 'Made-up lumber ' || n, 'board_foot', 'demo' FROM generate_series(1, $1::int) n`,
		`INSERT INTO lumber (code, species, rough_thickness_mm, surfaced_thickness_mm, grade, clear_twelfths, stock_lengths_mm, working_width_mm)
		 SELECT 'lumber_made_up_' || n, (ARRAY['teak', 'maple_sugar', 'oak_white'])[1 + n % 3], 25.4 + n % 50, 20.6375, 'FAS', 10,
		        ARRAY[1828.8 + n % 7, 2438.4, 3048, 3657.6, 4267.2, 4876.8], 150 + n % 100 FROM generate_series(1, $1::int) n`,
		`INSERT INTO item_pack (item, size) SELECT 'lumber_made_up_' || n, 1 FROM generate_series(1, $1::int) n`,
		`INSERT INTO price (item, size, supplier, valid_from, currency, amount)
		 SELECT 'lumber_made_up_' || n, 1, 'demo', day, 'USD', 5 + n % 1000 / 100.0
		 FROM generate_series(1, $1::int) n, (VALUES ('2026-01-01'::date), ('2026-10-01'::date)) d (day)`,
	} {
		storetest.Exec(b, conn, sql, many)
	}
	// Two years of nightly lists, and every hundredth pack left out of some of them.
	storetest.Exec(b, conn, `INSERT INTO price_list_day (supplier, day) SELECT 'demo', '2024-12-01'::date + n FROM generate_series(1, 720) n`)
	storetest.Exec(b, conn, `INSERT INTO price_silence (supplier, item, size, days)
		SELECT 'demo', 'lumber_made_up_' || n, 1, '{[2026-01-10,2026-01-20),[2026-11-01,2026-11-21)}' FROM generate_series(100, $1::int, 100) n`, many)
	storetest.Exec(b, conn, `ANALYZE`)
	b.ReportAllocs()
	for b.Loop() {
		snapshot, err := s.Shelf.Load(context.Background())
		require.NoError(b, err)
		require.Greater(b, len(snapshot.Materials), many)
	}
}
