package wood

import (
	"seamwright/service/measure"
)

// AirFor is the relative humidity at which wood settles at a moisture content, by EMC; ok is false where no air does.
func AirFor(m measure.Moisture, temperature measure.Temperature) (humidity measure.Humidity, ok bool) {
	low, high := measure.Humidity(0.1), measure.Humidity(99.9)
	for range 50 {
		mid := (low + high) / 2
		emc, err := EMC(mid, temperature)
		if err != nil {
			return 0, false
		}
		if emc < m {
			low = mid
		} else {
			high = mid
		}
	}
	return high, low > 0.1 && high < 99.9
}
