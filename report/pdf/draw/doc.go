// Package draw is the drawing layer of the printed documents: it alone talks to
// gofpdf. It knows paper, type, ink, marks, tables and charts, and no figures
// and no words: those are passed in, "continued", "sheet" and "of" as [Words].
//
// Lengths are mm from the upper left corner of the sheet, type sizes points,
// and the y of a text is its base line. Any text may be passed: it is cleaned,
// and what no face can draw becomes a box that [Document.Missing] reports.
// Numbers that are not finite draw nothing.
//
// # Document, page, flow
//
// [New] starts a [Document]; [Document.NewPage] adds a [Page] with top rule,
// head and foot; [Document.Flow] adds one with a cursor that goes on to new
// pages by itself: [Flow.Section], [Flow.Paragraph], [Flow.Table],
// [Flow.Warning], [Flow.Take] for a rectangle to draw in, [Flow.Need],
// [Flow.Space], [Flow.Next]. Pages record their calls and are written by
// [Document.Bytes]; [Document.Later] runs when all pages exist.
//
// # Text
//
// A [Style] is face, size, ink and tracking; the type table is [Label], [Small],
// [Aside], [Plain], [Strong], [Body], [Item], [Finding], [Large], [Title],
// [Weight], [Batch], changed with [Style.With], [Style.At], [Style.In].
// [Page.Text], [Page.TextRight], [Page.TextCenter] set a line, [Page.Fit] one
// that must not be wider than a width, [Page.Wrap] several, [Page.Leader] one of
// a list of contents, [Page.Bench] a number as a scale shows it. [Document.Width]
// and [Document.Lines] measure. [Number] and [Report] write report numbers.
//
// # Shapes and marks
//
// [Page.Line], [Page.Hair], [Page.Dotted], [Page.Fill], [Page.Outline],
// [Page.Disc], [Page.Ring], [Page.Polygon], [Page.Hatch],
// [Page.Dots]; [Page.Mark] for the signs of [Mark], [Page.TickBox],
// [Page.Swatch], [Page.ChartFill], [Page.HatchedBar], [Page.Drops],
// [Page.WriteIn], [Page.DottedLines], [Page.ThumbTab], [Page.Warning],
// [Page.Figures], [Page.Step].
//
// # Tables and charts
//
// A [Table] breaks between rows only and repeats its heads. A chart is a struct
// of plain data with Height, its natural height in a width, and Draw into a
// rectangle: [StackedBars], [RangePlot], [Dumbbell], [Diverging], [Months],
// [Tens], [Scatter], [Sparkline], [Timeline], [LoadBar]. A [Format] writes a
// value, an [AxisFormat] a number of an axis. [Patterns] gives the colors of a
// document swatches that all differ.
package draw
