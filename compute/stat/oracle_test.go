package stat

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"pourbook/compute/calc"
	"pourbook/compute/oracle"
)

// scipy runs a Python program on SciPy.
func scipy(t *testing.T, program string) []byte {
	t.Helper()
	return oracle.Python(t, program, oracle.SciPy)
}

func TestNegBinAgainstSciPy(t *testing.T) {
	out := scipy(t, `
import json
from scipy.stats import nbinom
rows = []
for r in (2, 2.5, 4, 7.3, 20, 50):
    for m in (0.05, 0.7, 3, 11.25, 64, 500, 12000):
        d = nbinom(r, r / (r + m))
        for t in (0.02, 0.3, 0.5, 0.77, 0.95, 0.999):
            q = int(d.ppf(t))
            low = float(sum(d.sf(k) for k in range(min(q, 400))))
            rows.append([m, r, t, q, float(d.pmf(q)), float(d.cdf(q)), float(d.sf(q)), min(q, 400), low])
print(json.dumps(rows))
`)
	var rows [][9]float64
	if err := json.Unmarshal(out, &rows); err != nil {
		t.Fatal(err)
	}
	if len(rows) != 6*7*6 {
		t.Fatalf("%d cases", len(rows))
	}
	for _, x := range rows {
		d := NegBin{Mean: x[0], R: x[1]}
		name := fmt.Sprintf("mean %g, r %g, at %g", x[0], x[1], x[2])
		q := int(x[3])
		if got := d.Quantile(x[2]); got != q {
			t.Errorf("%s: quantile %d, SciPy %d", name, got, q)
		}
		for what, pair := range map[string][2]float64{
			"pmf": {d.pmf(q), x[4]}, "cdf": {d.CDF(q), x[5]}, "above": {d.Above(q), x[6]}, "expected min": {d.ExpectedMin(int(x[7])), x[8]},
		} {
			if math.Abs(pair[0]-pair[1]) > 1e-9*math.Max(1e-3, math.Abs(pair[1])) {
				t.Errorf("%s: %s %.15g, SciPy %.15g", name, what, pair[0], pair[1])
			}
		}
	}
	oracle.Cases(t, 4*len(rows))
}

// rlang gives what an R program prints, a row of numbers for each line.
func rlang(t *testing.T, program string) [][]float64 {
	t.Helper()
	var out [][]float64
	for line := range strings.Lines(string(oracle.Rscript(t, "options(digits = 17, warn = -1)\nset.seed(8)\n"+program))) {
		var row []float64
		for _, text := range strings.Fields(line) {
			v, err := strconv.ParseFloat(text, 64)
			if err != nil {
				t.Fatal(line)
			}
			row = append(row, v)
		}
		out = append(out, row)
	}
	if len(out) == 0 {
		t.Fatal("R printed nothing")
	}
	return out
}

// Shares of whole and of effective numbers against prop.test, which has the
// score interval; its normal quantile has more digits than ours.
func TestWilsonAgainstR(t *testing.T) {
	rows := rlang(t, `
for (i in 1:200) {
  n <- if (i %% 2) ceiling(10^runif(1, 0, 5)) else 10^runif(1, 0.3, 5)
  p <- if (i %% 20 == 0) 0 else if (i %% 20 == 1) 1 else runif(1)
  cat(p, n, prop.test(p * n, n, correct = FALSE)$conf.int, "\n")
}`)
	for _, x := range rows {
		low, high := Wilson(calc.Const(x[0]), calc.Const(x[1]))
		if !within(low, x[2], 1e-7) || !within(high, x[3], 1e-7) {
			t.Errorf("%v of %v: %v to %v, R has %v to %v", x[0], x[1], low.Or(-1), high.Or(-1), x[2], x[3])
		}
	}
	oracle.Cases(t, 2*len(rows))
}

// Tables of two columns against chisq.test: statistic, and its tail as it is and
// divided by a design effect, far into which only the order of magnitude counts.
func TestChiSquareAgainstR(t *testing.T) {
	rows := rlang(t, `
for (i in 1:120) {
  k <- sample(2:9, 1)
  m <- matrix(rpois(2 * k, 10^runif(2 * k, 1.1, 3)) + 1, k)
  effect <- runif(1, 1, 40)
  x <- unname(chisq.test(m, correct = FALSE)$statistic)
  cat(x, effect, pchisq(x, k - 1, lower.tail = FALSE), pchisq(x / effect, k - 1, lower.tail = FALSE), t(m), "\n")
}`)
	for _, x := range rows {
		var table []Row
		for i := 4; i < len(x); i += 2 {
			table = append(table, Row{calc.Const(x[i]), calc.Const(x[i+1])})
		}
		df := calc.Const(float64(len(table) - 1))
		statistic := ChiSquare(table)
		whole, part := Tail(statistic, df), Tail(calc.Div(statistic, calc.Const(x[1])), df)
		if !within(statistic, x[0], 1e-10*x[0]) || !within(whole, x[2], 1e-8*x[2]+1e-300) || !within(part, x[3], 1e-9*x[3]) {
			t.Errorf("%v: %v, %v, %v; R has %v, %v, %v", x[4:], statistic.Or(-1), whole.Or(-1), part.Or(-1), x[0], x[2], x[3])
		}
	}
	oracle.Cases(t, 3*len(rows))
}

// Tables with groups that expect too few, pooled in R's own words: the number of
// groups left, and chisq.test's statistic of them.
func TestPooledTablesAgainstR(t *testing.T) {
	rows := rlang(t, `
for (i in 1:120) {
  k <- sample(2:7, 1)
  m <- matrix(rpois(2 * k, rep(c(9, 3), each = k) * 10^runif(k, -0.7, 1.3)), k)
  if (any(colSums(m) == 0)) next
  p <- m[rowSums(m) > 0, , drop = FALSE]
  expect <- outer(rowSums(p), colSums(p)) / sum(p)
  few <- apply(expect, 1, min) < 5 - 1e-9
  if (any(few)) {
    kept <- p[!few, , drop = FALSE]
    pool <- colSums(p[few, , drop = FALSE])
    if (nrow(kept) > 0 && min(sum(pool) * colSums(p) / sum(p)) < 5 - 1e-9) {
      at <- which.min(rowSums(kept))
      kept[at, ] <- kept[at, ] + pool
      p <- kept
    } else p <- rbind(kept, pool)
  }
  x <- if (nrow(p) > 1) unname(chisq.test(p, correct = FALSE)$statistic) else 0
  cat(nrow(p), x, t(m), "\n")
}`)
	cases := 0
	for _, x := range rows {
		var table []Row
		for i := 2; i < len(x); i += 2 {
			table = append(table, Row{calc.Const(x[i]), calc.Const(x[i+1])})
		}
		pooled := Pool(table)
		cases++
		if float64(len(pooled)) != x[0] {
			t.Errorf("%v: %d groups, R has %v", x[2:], len(pooled), x[0])
			continue
		}
		if x[0] > 1 {
			cases++
			if got := ChiSquare(pooled); !within(got, x[1], 1e-9*max(1, x[1])) {
				t.Errorf("%v: %v, R has %v", x[2:], got.Or(-1), x[1])
			}
		}
	}
	oracle.Cases(t, cases)
}

// Kish's effective size against that of weights, sum(w)^2 / sum(w^2), and, as he
// derived it, n / (1 + CV^2).
func TestKishAgainstR(t *testing.T) {
	rows := rlang(t, `
for (i in 1:60) {
  w <- rgeom(sample(2:400, 1), runif(1, 0.1, 0.9)) + 1
  n <- length(w)
  cat(sum(w), sum(w^2), n / (1 + var(w) * (n - 1) / n / mean(w)^2), "\n")
}`)
	for _, x := range rows {
		if got := Kish(calc.Const(x[0]), calc.Const(x[1]), calc.Const(x[0])); !within(got, x[2], 1e-9*x[2]) {
			t.Errorf("%v units count as %v, R has %v", x[0], got.Or(-1), x[2])
		}
	}
	oracle.Cases(t, len(rows))
}

// Lines and prediction intervals of random points against lm and predict.
func TestLinesAgainstR(t *testing.T) {
	rows := rlang(t, `
for (i in 1:80) {
  n <- sample(3:30, 1)
  x <- log(runif(n, 60, 700))
  y <- log(runif(1, 2, 9)) + runif(1, 0.2, 1.2) * x + rnorm(n, 0, 10^runif(1, -3, 0))
  at <- log(runif(1, 30, 900))
  line <- predict(lm(y ~ x), data.frame(x = at), interval = "prediction")
  cat(at, line[1], (line[3] - line[2]) / 2, x, y, "\n")
}`)
	for _, x := range rows {
		n := (len(x) - 3) / 2
		y, half := FitLine(consts(x[3:3+n]), consts(x[3+n:])).At(calc.Const(x[0]))
		if !within(y, x[1], 1e-8*math.Abs(x[1])) || !within(half, x[2], 1e-7*x[2]) {
			t.Errorf("%d points at %v: %v ± %v, R has %v ± %v", n, x[0], y.Or(0), half.Or(0), x[1], x[2])
		}
	}
	oracle.Cases(t, 2*len(rows))
}

// Random quantiles of the negative binomial against qnbinom, other code than
// SciPy's.
func TestNegBinAgainstR(t *testing.T) {
	rows := rlang(t, `
for (i in 1:300) {
  m <- 10^runif(1, -1, 4)
  r <- runif(1, 2, 50)
  p <- runif(1, 0.02, 0.995)
  q <- qnbinom(p, size = r, mu = m)
  cat(m, r, p, q, pnbinom(q, size = r, mu = m), sum(pnbinom(seq_len(q) - 1, size = r, mu = m, lower.tail = FALSE)), "\n")
}`)
	for _, x := range rows {
		d := NegBin{Mean: x[0], R: x[1]}
		q := d.Quantile(x[2])
		if float64(q) != x[3] || math.Abs(d.CDF(q)-x[4]) > 1e-10 || math.Abs(d.ExpectedMin(q)-x[5]) > 1e-9*(1+x[5]) {
			t.Errorf("mean %v, r %v, at %v: %d, %v, %v; R has %v", x[0], x[1], x[2], q, d.CDF(q), d.ExpectedMin(q), x[3:])
		}
	}
	oracle.Cases(t, 3*len(rows))
}
