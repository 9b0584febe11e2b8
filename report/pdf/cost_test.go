package pdf

import (
	"os"
	"testing"

	"pourbook/compute/day"
)

func TestWrite(t *testing.T) {
	dir := os.Getenv("OUTDIR")
	for name, s := range map[string]shape{"small": {recipes: 1, jars: 1, bare: true}, "mid": {recipes: 4, jars: 2}, "large": {recipes: 10, jars: 3, long: true}} {
		r := costing(t, s, october())
		for _, paper := range []string{"Letter", "A4"} {
			b, missing, err := Cost(r, Options{Paper: paper, Today: day.Of(2026, 11, 5), Shop: "Quince Shed Candles", Print: "3f9a-71c2"})
			if err != nil {
				t.Fatal(err)
			}
			t.Log(name, len(b), missing)
			if dir != "" {
				os.WriteFile(dir+"/"+name+"-"+paper+".pdf", b, 0o644)
			}
		}
	}
}
