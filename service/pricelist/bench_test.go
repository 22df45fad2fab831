package pricelist

import (
	"bytes"
	"fmt"
	"io"
	"testing"

	"seamwright/service/catalogue"
	"seamwright/service/money"
)

// rowsOfBench is a nightly list of an invented supplier.
func rowsOfBench(rows int, line func(b *bytes.Buffer, i int)) []byte {
	var b bytes.Buffer
	for i := range rows {
		line(&b, i)
	}
	return b.Bytes()
}

func benchmarkRead(b *testing.B, list []byte, o Options, rows int) {
	b.SetBytes(int64(len(list)))
	b.ReportAllocs()
	for b.Loop() {
		r, err := Open(bytes.NewReader(list), o)
		if err != nil {
			b.Fatal(err)
		}
		var row Row
		n := 0
		for {
			rejection, err := r.Next(&row)
			if err == io.EOF { //nolint:errorlint // the loop is what is measured
				break
			}
			if err != nil || rejection != nil {
				b.Fatal(err, rejection)
			}
			n++
		}
		if n != rows {
			b.Fatalf("%d rows of %d", n, rows)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(rows), "ns/row")
}

// A million rows, as in the aim.
func BenchmarkReadMillionRows(b *testing.B) {
	const rows = 1_000_000
	list := append([]byte("article,price,unit,currency,description\n"), rowsOfBench(rows, func(b *bytes.Buffer, i int) {
		fmt.Fprintf(b, "A-%07d,%d.%02d,each,USD,screw no. %d\n", i, 1+i%900, i%100, i)
	})...)
	benchmarkRead(b, list, Options{MediaType: "text/csv"}, rows)
}

func BenchmarkReadQuotedDecimalComma(b *testing.B) {
	const rows = 100_000
	list := append([]byte("article;price;per;currency\n"), rowsOfBench(rows, func(b *bytes.Buffer, i int) {
		fmt.Fprintf(b, "\"A-%07d\";\"1.%03d,%02d\";each;EUR\n", i, i%1000, i%100)
	})...)
	benchmarkRead(b, list, Options{MediaType: "text/csv"}, rows)
}

func BenchmarkReadNDJSON(b *testing.B) {
	const rows = 100_000
	list := rowsOfBench(rows, func(b *bytes.Buffer, i int) {
		fmt.Fprintf(b, `{"article":"A-%07d","price":"%d.%02d","per":"each","currency":"USD"}`+"\n", i, 1+i%900, i%100)
	})
	benchmarkRead(b, list, Options{MediaType: "application/x-ndjson"}, rows)
}

func BenchmarkReadJSON(b *testing.B) {
	const rows = 100_000
	list := rowsOfBench(rows, func(b *bytes.Buffer, i int) {
		fmt.Fprintf(b, `,{"article":"A-%07d","price":%d.%02d,"per":"each","currency":"USD"}`+"\n", i, 1+i%900, i%100)
	})
	list[0] = '['
	benchmarkRead(b, append(list, ']'), Options{MediaType: "application/json"}, rows)
}

func BenchmarkConvert(b *testing.B) {
	one, hundred := money.Count(1), money.Count(100)
	for _, c := range []struct {
		name string
		row  Row
		own  Own
	}{
		{"each", Row{Price: "12.50", Per: Each}, Own{Unit: catalogue.Each, Packs: []money.Quantity{one}}},
		{"hundred", Row{Price: "12.50", Per: Thousand, PackOf: "100"}, Own{Unit: catalogue.Each, Packs: []money.Quantity{one, hundred}}},
		{"cubic_metre", Row{Price: "2400", Per: CubicMetre}, Own{Unit: catalogue.BoardFoot, Packs: []money.Quantity{one}}},
		{"running_foot", Row{Price: "3.20", Per: RunningFoot}, Own{Unit: catalogue.BoardFoot, Packs: []money.Quantity{one}, RoughThickness: 31.75, WorkingWidth: 127}},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, rejection := Convert(&c.row, c.own); rejection != nil {
					b.Fatal(rejection)
				}
			}
		})
	}
}
