package pdf

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"pourbook/report/show"
)

// temperature is a temperature in the scale it was given in, and in the other.
// Other is "" when the text could not be read; Own is then the text itself.
type temperature struct{ Own, Other string }

// degrees reads "185 F", "85°C", "180-185 deg F", "57.5 Celsius".
var degrees = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?i)^(\d+(?:[.,]\d+)?)(?:\s*(?:-|–|to)\s*(\d+(?:[.,]\d+)?))?\s*(?:°|º|deg(?:rees?|\.)?)?\s*(f|fahrenheit|c|celsius|centigrade)\.?$`)
})

// readTemperature gives a temperature in both scales, to the whole degree. A
// text that names no scale, or names both, stays as it was typed.
func readTemperature(s string) temperature {
	s = strings.TrimSpace(s)
	m := degrees().FindStringSubmatch(s)
	if m == nil {
		return temperature{Own: s}
	}
	fahrenheit := strings.EqualFold(m[3][:1], "f")
	var own, other []string
	for _, number := range m[1:3] {
		if number == "" {
			continue
		}
		v, err := strconv.ParseFloat(strings.ReplaceAll(number, ",", "."), 64)
		if err != nil {
			return temperature{Own: s}
		}
		x := v*9/5 + 32
		if fahrenheit {
			x = (v - 32) * 5 / 9
		}
		own, other = append(own, show.Decimals(v, decimalsTyped(v))), append(other, show.Decimals(x, 0))
	}
	scales := [2]string{" °C", " °F"}
	if fahrenheit {
		scales[0], scales[1] = scales[1], scales[0]
	}
	return temperature{strings.Join(own, "–") + scales[0], strings.Join(other, "–") + scales[1]}
}

func decimalsTyped(v float64) int32 {
	if v == math.Trunc(v) {
		return 0
	}
	return 1
}
