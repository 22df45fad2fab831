package plan

// The paper in rows: a label, which is low, asks only for the lines in its rows.
const (
	rowHigh  = 8.0 // mm
	rowCount = 48  // what is lower on the paper is in the last one
)

// rows are the lines that touch each row of the paper, the latest first.
type rows struct {
	last [rowCount]int32 // of each row, its place in list, from 1; 0: none
	list []inRow
}

// inRow is a line in a row, and the one that was put there before it.
type inRow struct{ line, before int32 }

func rowOf(y float64) int { return min(max(int(y/rowHigh), 0), rowCount-1) }

// add puts a line into the rows that the box round it touches.
func (r *rows) add(line int, b *box) {
	for k := rowOf(b.y0); k <= rowOf(b.y1); k++ {
		r.list = append(r.list, inRow{int32(line), r.last[k]}) //nolint:gosec // a plan has some hundred lines
		r.last[k] = int32(len(r.list))                         //nolint:gosec // see above
	}
}
