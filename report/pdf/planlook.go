package pdf

import (
	"fmt"
	"slices"
	"strings"

	"pourbook/compute/calc"
	"pourbook/compute/day"
	"pourbook/compute/plan"
	"pourbook/compute/problem"
	"pourbook/report/pdf/draw"
	"pourbook/report/show"
	"pourbook/templates"
)

// look is something to settle before the first pour. Sheet is the key of the
// part that has more, if any.
type look struct {
	alarm       bool
	title, text string
	sheet       string
	batch       int // whose card has more, instead of a part
}

// newLook is n of a kind; args fill its text.
func newLook(kind string, n int, sheet string, args ...any) look {
	return look{title: templates.Text("plan.look."+kind, "n", n), text: templates.Text("plan.look.text."+kind, args...), sheet: sheet}
}

func (l look) urgent() look { l.alarm = true; return l }

// lookFirst lists what needs settling, the worst first, with boxes to tick.
func (p *planPages) lookFirst() {
	looks := p.looksFirst()
	if len(looks) == 0 && len(p.r.Pours) == 0 {
		return
	}
	p.head(templates.Text("plan.look"), templates.Text("plan.look.aside"), 14)
	if len(looks) == 0 {
		p.f.Paragraph(templates.Text("plan.look.none"), draw.Body)
		p.f.Space(2)
		return
	}
	for i, l := range looks {
		p.look(l, i == 0)
	}
}

func (p *planPages) looksFirst() []look {
	var all []look
	all = append(all, p.lateLooks()...)
	all = append(all, p.leftLooks()...)
	all = append(all, p.orderLooks()...)
	all = append(all, p.flagLooks()...)
	all = append(all, p.otherLooks()...)
	slices.SortStableFunc(all, func(a, b look) int {
		switch {
		case a.alarm == b.alarm:
			return 0
		case a.alarm:
			return -1
		}
		return 1
	})
	return all
}

func (p *planPages) pick(keep func(*plan.Pour) bool) []*plan.Pour {
	var out []*plan.Pour
	for i := range p.r.Pours {
		if keep(&p.r.Pours[i]) {
			out = append(out, &p.r.Pours[i])
		}
	}
	return out
}

func (p *planPages) lateLooks() []look {
	late := p.pick(func(x *plan.Pour) bool { n, ok := p.inHand(x); return ok && n < 0 })
	past := p.pick(func(x *plan.Pour) bool {
		n, ok := p.inHand(x)
		return ok && n >= 0 && dated(x.Due) && x.Day > x.Due
	})
	var out []look
	if len(late) > 0 {
		worst := slices.MinFunc(late, func(a, b *plan.Pour) int { x, _ := p.inHand(a); y, _ := p.inHand(b); return x - y })
		n, _ := p.inHand(worst)
		at, what := p.wanted(worst)
		out = append(out, newLook("late", len(late), partCalendar, "batches", batchNames(late), "worst", batchName(worst), "days", count(-n),
			"ready", show.ShortDate(worst.Cured), "wanted", show.ShortDate(at), "what", what).urgent())
	}
	if len(past) > 0 {
		out = append(out, newLook("past", len(past), partCalendar, "batches", batchNames(past)).urgent())
	}
	return out
}

func (p *planPages) leftLooks() []look {
	if len(p.r.LeftOut) == 0 {
		return nil
	}
	units := 0
	var lost []*calc.Figure
	var names []string
	for _, l := range p.r.LeftOut {
		units, lost = units+l.Units, append(lost, l.Contribution)
		names = append(names, fmt.Sprintf("%d × %s", l.Units, titleOf(l.Of, l.Product)))
	}
	out := newLook("left", units, "", "what", few(names)).urgent()
	s := []string{out.text}
	if f := total(lost); f.Known() {
		s = append(s, templates.Text("plan.found.cost", "amount", p.money.Amount(f)))
	}
	out.text = strings.Join(append(s, p.remedies()...), " ")
	return []look{out}
}

// remedies are what would let more be poured.
func (p *planPages) remedies() []string {
	var out []string
	if v, ok := p.r.MoreDay.Value(); ok && v > 0 {
		out = append(out, templates.Text("plan.more.day", "amount", p.money.Of(v)))
	}
	if v, ok := p.r.MorePitcher.Value(); ok && v > 0 {
		out = append(out, templates.Text("plan.more.pitcher", "amount", p.money.Of(v)))
	}
	if len(out) == 0 {
		out = append(out, templates.Text("plan.more.none"))
	}
	return out
}

func (p *planPages) orderLooks() []look {
	var late, soon []string
	first := day.None
	for _, b := range p.r.Buy {
		switch {
		case b.Late:
			late = append(late, templates.Text("plan.item-by", "item", b.Material, "date", show.ShortDate(b.OrderBy)))
		default:
			soon = append(soon, b.Material)
			if b.OrderBy != day.None && (first == day.None || b.OrderBy < first) {
				first = b.OrderBy
			}
		}
	}
	var out []look
	if len(late) > 0 {
		out = append(out, newLook("order-late", len(late), partOrder, "items", few(late)).urgent())
	}
	if len(soon) > 0 {
		l := newLook("order", len(soon), partOrder, "items", few(soon), "date", show.ShortDate(first))
		if first == day.None {
			l.text = templates.Text("plan.look.undated", "items", few(soon))
		}
		out = append(out, l)
	}
	return out
}

// few lists the first names, as many as are read at a glance.
func few(names []string) string {
	const most, letters = 5, 110
	n, length := 0, 0
	for n < len(names) && n < most && (n == 0 || length+len(names[n]) < letters) {
		length += len(names[n])
		n++
	}
	if more := len(names) - n; more > 0 {
		names = append(slices.Clone(names[:n]), templates.Text("plan.more-things", "n", more))
	}
	return listed(names)
}

// alarming are the flags that must be settled before the pour.
var alarming = map[string]bool{
	plan.FlagWater: true, plan.FlagFailed: true, plan.FlagMaxLoad: true, plan.FlagDropLimit: true, plan.FlagAdditive: true, plan.FlagNoDye: true,
}

func (p *planPages) flagLooks() []look {
	var out []look
	for _, flag := range p.flags() {
		pours := p.pick(func(x *plan.Pour) bool { return slices.Contains(x.Flags, flag) })
		l := look{alarm: alarming[flag], title: flagTitle(flag), text: batchNames(pours) + ". " + flagText(flag)}
		switch flag {
		case plan.FlagUntested, plan.FlagFailed:
			l.sheet = partTests
		case plan.FlagWaits:
			l.sheet = partOrder
		default:
			l.batch = pours[0].Batch
		}
		out = append(out, l)
	}
	return out
}

// flags are those that any pour carries, in the order of plan.Flags.
func (p *planPages) flags() []string {
	var met []string
	for _, x := range p.r.Pours {
		for _, f := range x.Flags {
			if !slices.Contains(met, f) {
				met = append(met, f)
			}
		}
	}
	place := func(f string) int {
		if i := slices.Index(plan.Flags, f); i >= 0 {
			return i
		}
		return len(plan.Flags)
	}
	slices.SortStableFunc(met, func(a, b string) int { return place(a) - place(b) })
	return met
}

func flagTitle(flag string) string { return templates.Text("plan.flag." + flag) }

func flagText(flag string) string { return templates.Text("plan.flag.text." + flag) }

func (p *planPages) otherLooks() []look {
	var out []look
	tight := p.pick(func(x *plan.Pour) bool { return dated(x.Due) && x.Day == x.Due })
	if len(tight) > 0 {
		out = append(out, newLook("tight", len(tight), partCalendar, "batches", batchNames(tight)))
	}
	bad := 0
	for _, x := range p.r.Problems.Sorted() {
		if x.Severity == problem.Error {
			bad++
		}
	}
	if bad > 0 {
		out = append(out, newLook("book", bad, partNotes))
	}
	return out
}

// look draws one of them: box, sign, title, text, and the sheet that has more.
func (p *planPages) look(l look, first bool) {
	const box, titleW, refW, textX = 7.0, 50.0, 17.0, 72.0
	title := draw.Item.At(11.5)
	w := p.f.Width() - textX - refW - 3
	titles := p.Lines(l.title, title, titleW, 3)
	texts := p.Lines(l.text, draw.Plain, w, 8)
	h := max(10.4, float64(len(titles))*title.Leading()+2.6, float64(len(texts))*draw.Plain.Leading()+2.6)
	y := p.f.Y
	r := p.f.Take(h)
	if !first && r.Y == y {
		p.f.Hair(r.X, r.Right(), r.Y)
	}
	mid := r.Y + h/2
	p.f.TickBox(r.X+0.5, mid-box/2, box)
	if l.alarm {
		p.f.Mark(draw.Alarm, r.X+14, mid, 5, draw.Rust)
		title = title.With(draw.Rust)
	} else {
		p.f.Mark(draw.Ring, r.X+14, mid, 4.6, draw.Black)
	}
	p.f.Wrap(r.X+20, title.Middle(mid)-float64(len(titles)-1)*title.Leading()/2, titleW, l.title, title, 3)
	p.f.Wrap(r.X+textX, draw.Plain.Middle(mid)-float64(len(texts)-1)*draw.Plain.Leading()/2, w, l.text, draw.Plain, 8)
	p.reference(l, r.Right(), mid, refW)
}

// reference names the sheet that has more.
func (p *planPages) reference(l look, right, mid, w float64) {
	page := p.f.Page
	p.Later(func() {
		sheet := p.cardAt[l.batch]
		for _, x := range p.parts {
			if x.key == l.sheet {
				sheet = x.from
			}
		}
		if sheet > 0 {
			page.Fit(right, draw.Strong.Middle(mid), w, templates.Text("plan.on-sheet", "n", sheet), draw.Strong.With(draw.Petrol), draw.SizeLabel, draw.AlignRight)
		}
	})
}
