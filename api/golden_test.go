package api_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api/estimates"
	"seamwright/service/catalogue"
	"seamwright/service/estimate"
	"seamwright/service/hardware"
	"seamwright/service/measure"
	"seamwright/service/money"
)

// filler gives every field of a value a content of its own: a text is the way to its field, a number is the next
// one, so that the golden file shows when two are swapped.
type filler struct{ n int }

func (f *filler) next() int { f.n++; return f.n }

func (f *filler) fill(at string, v reflect.Value) {
	switch x := v.Addr().Interface().(type) {
	case *measure.System:
		*x = measure.Millimetres
	case *measure.Angle:
		*x = measure.Angle(f.next()) * measure.Degree
	case *measure.Area:
		*x = measure.Area(f.next()) * measure.SquareMetre
	case *money.Amount:
		*x = money.RoundAmount(float64(f.next()))
	case *money.UnitPrice:
		*x, _ = money.ParseUnitPrice(fmt.Sprint(f.next()))
	case *money.Quantity:
		*x = money.Count(f.next())
	case *money.Rate:
		*x = money.RateOf(f.next())
	case *catalogue.Date:
		*x = catalogue.Date(fmt.Sprintf("2026-%02d-%02d", 1+f.next()%12, 1+f.n%28))
	case *any:
		*x = measure.Length(f.next())
	case *[]hardware.PullGroup:
		*x = make([]hardware.PullGroup, 2)
		f.fill(at+"[0]", v.Index(0))
		f.fill(at+"[1]", v.Index(1))
	default:
		f.fillKind(at, v)
	}
}

func (f *filler) fillKind(at string, v reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			f.fill(at+"."+v.Type().Field(i).Name, v.Field(i))
		}
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		f.fill(at, v.Elem())
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		f.fill(at, v.Index(0))
	case reflect.Array:
		for i := range v.Len() {
			f.fill(fmt.Sprintf("%s[%d]", at, i), v.Index(i))
		}
	case reflect.String:
		v.SetString(strings.TrimPrefix(at, "."))
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int, reflect.Int64:
		v.SetInt(int64(f.next()))
	case reflect.Float64:
		v.SetFloat(float64(f.next()))
	default:
		panic("no content for " + at)
	}
}

func TestEveryFieldOfAnEstimateIsWrittenUnderItsName(t *testing.T) {
	t.Parallel()
	var est estimate.Estimate
	(&filler{}).fill("", reflect.ValueOf(&est).Elem())
	for i := range est.Runs {
		est.Runs[i].Movement.Method = estimate.ByCoefficient
	}
	est.Corners[0].Candidates[0].Joint.Kind = "miter"
	est.Labour.NoPromise = "" // else its days are not written; see TestWoodFarFromReadyPromisesNoDayAnywhere
	raw := estimates.Encode(&est)
	var pretty bytes.Buffer
	require.NoError(t, json.Indent(&pretty, raw, "", "  "))
	pretty.WriteByte('\n')
	const file = "testdata/every_field.golden.json"
	if os.Getenv("UPDATE_GOLDEN") != "" {
		require.NoError(t, os.WriteFile(file, pretty.Bytes(), 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, string(want), pretty.String())
}
