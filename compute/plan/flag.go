package plan

import (
	"math"
	"slices"

	"pourbook/compute/book"
	"pourbook/compute/calc"
	"pourbook/compute/cell"
	"pourbook/compute/fault"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
)

// The flags of a pour; their words are "flag.<code>" of templates.
const (
	FlagDropLimit = "over-drop-limit"
	FlagUntested  = "untested-finish"
	FlagFailed    = "failed-test"
	FlagMaxLoad   = "over-max-load"
	FlagDose      = "dose-error"
	FlagWater     = "not-oil-soluble"
	FlagAdditive  = "double-additive"
	FlagNoDye     = "no-dye"
	FlagWaits     = "waits-for-order"
)

// Flags lists the flags in the order in which a card shows them.
var Flags = []string{FlagWater, FlagFailed, FlagUntested, FlagMaxLoad, FlagDropLimit, FlagAdditive, FlagNoDye, FlagDose, FlagWaits}

// flag marks what a pour has to be watched for.
func (r *run) flag(p *Pour, jobs []*job) {
	defer fault.In(p.Of.Name.At, p.Of.Name.V)
	raised := map[string]bool{}
	for _, j := range jobs {
		switch r.tested(j.product) {
		case testFailed:
			raised[FlagFailed] = true
		case testNone:
			raised[FlagUntested] = true
		}
	}
	r.flagContent(p, jobs[0], raised)
	limit := r.value(book.DoseErrorLimit)
	for _, w := range p.Weigh {
		if v, ok := w.DoseError.Value(); ok && math.Abs(v) > limit+1e-12 {
			raised[FlagDose] = true
		}
	}
	raised[FlagWaits] = r.waits(p)
	for _, f := range Flags {
		if raised[f] {
			p.Flags = append(p.Flags, f)
		}
	}
}

// flagContent marks what is odd about the recipe in this finish.
func (r *run) flagContent(p *Pour, j *job, raised map[string]bool) {
	wax := j.content.Wax.Or(0)
	fragrance, additive, polymer := 0.0, false, false
	most := math.Inf(1) // the least of the waxes' maximum loads
	for _, i := range j.content.Items {
		m, g := i.Material, i.Grams.Or(0)
		max := math.Inf(1)
		if m.MaxLoad.OK() {
			max = m.MaxLoad.V
		}
		switch m.Kind {
		case book.Wax:
			most = math.Min(most, max)
			additive = additive || m.ContainsAdditive.V
			continue
		case book.Fragrance:
			fragrance += g
		case book.Additive:
			polymer = true
		case book.Dye:
			raised[FlagWater] = raised[FlagWater] || cell.Fold(m.Base.V) == "water"
		}
		raised[FlagMaxLoad] = raised[FlagMaxLoad] || g > wax*max*(1+1e-9)
	}
	raised[FlagMaxLoad] = raised[FlagMaxLoad] || fragrance > wax*most*(1+1e-9)
	raised[FlagAdditive] = additive && polymer
	raised[FlagDropLimit] = j.dropShare()*unit.GramsPerPound > r.value(book.DropLimit)*(1+1e-9)
	raised[FlagNoDye] = p.Finish == book.Colored && !p.Of.HasDye()
}

// waits reports whether a pour takes something that the stock on hand does not
// cover, after what earlier pours took.
func (r *run) waits(p *Pour) bool {
	for _, t := range p.takes {
		left := held(t.Of) * (1 + 1e-9)
		for i := range r.pours {
			q := &r.pours[i]
			at := slices.IndexFunc(q.takes, func(x Take) bool { return x.Of == t.Of })
			if at >= 0 {
				left -= q.takes[at].Quantity.Or(0)
			}
			if q.Batch == p.Batch {
				break
			}
		}
		if left < 0 {
			return true
		}
	}
	return false
}

type testState int

const (
	testPassed testState = iota
	testFailed
	testNone
)

// tested is how the last burn test of a product's combination ended: recipe,
// jar and finish, with one of its wicks or none named. A book without a table
// of burn tests has no untested ones.
func (r *run) tested(p *book.Product) testState {
	if !r.book.Has(book.TBurnTests) {
		return testPassed
	}
	state, last := testNone, r.opts.Today
	wicks := wicksOf(p)
	for _, b := range r.book.Burns {
		if b.Recipe != p.Recipe || b.Jar != p.Jar || b.Finish != p.Finish || b.Day > r.opts.Today {
			continue
		}
		if b.Wick.V != "" && len(wicks) > 0 && !slices.ContainsFunc(wicks, func(m *book.Material) bool { return cell.Fold(m.Name.V) == cell.Fold(b.Wick.V) }) {
			continue
		}
		if state != testNone && b.Day < last {
			continue
		}
		state, last = testFailed, b.Day
		if b.Pass {
			state = testPassed
		}
	}
	return state
}

// wicksOf are the wicks of a product's jar in its finish.
func wicksOf(p *book.Product) []*book.Material {
	var out []*book.Material
	for _, x := range p.Jar.Parts {
		fits := x.Finish == book.AnyFinish || x.Finish == "" || x.Finish == p.Finish
		if x.Material.Kind == book.Wick && fits && !slices.Contains(out, x.Material) {
			out = append(out, x.Material)
		}
	}
	return out
}

// burnTests lists the combinations that are poured and need a test: those never
// tested, and those whose last test failed.
func (r *run) burnTests() {
	jars := int(calc.CeilOf(r.value(book.TestJars)))
	for _, p := range r.pours {
		for _, j := range p.Jars {
			known := slices.ContainsFunc(r.res.Tests, func(t Test) bool {
				return t.Recipe == j.Of.Recipe && t.Jar == j.Of.Jar && t.Finish == j.Of.Finish
			})
			state := r.tested(j.Of)
			if known || state == testPassed {
				continue
			}
			wicks := wicksOf(j.Of)
			r.res.Tests = append(r.res.Tests, Test{
				Recipe: j.Of.Recipe, Jar: j.Of.Jar, Finish: j.Of.Finish, Wicks: wicks,
				Jars: jars * max(1, len(wicks)), Failed: state == testFailed,
			})
		}
	}
	if len(r.pours) > 0 && !r.book.Has(book.TBurnTests) {
		r.problem(problem.Note, problem.UntestedFinish, "no-table", cell.Ref{})
	}
}
