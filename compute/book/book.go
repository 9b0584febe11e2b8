// Package book is the domain model: a maker's workbook as the sums mean it.
// All values are in base units: gram, millilitre, piece, minute, one unit of
// currency; percents are fractions unless a field says otherwise. References
// are resolved; a row whose required field could not be read or matched is not
// in the book, and a problem says so.
package book

import (
	"slices"

	"pourbook/compute/cell"
	"pourbook/compute/day"
	"pourbook/compute/money"
	"pourbook/compute/problem"
	"pourbook/compute/unit"
)

// Money is an amount of currency read from a cell.
type Money = cell.Of[money.Amount]

// Date is a day read from a cell.
type Date = cell.Of[day.Date]

// Kind is what a material is.
type Kind string

// The kinds of material, in the order in which costs are shown.
const (
	Wax       Kind = "wax"
	Fragrance Kind = "fragrance"
	Dye       Kind = "dye"
	Additive  Kind = "additive"
	Wick      Kind = "wick"
	JarKind   Kind = "jar"
	Lid       Kind = "lid"
	Label     Kind = "label"
	Packaging Kind = "packaging"
	Other     Kind = "other"
)

// Kinds lists the kinds in order.
var Kinds = []Kind{Wax, Fragrance, Dye, Additive, Wick, JarKind, Lid, Label, Packaging, Other}

// Melted reports whether the material goes into the pot.
func (k Kind) Melted() bool { return k == Wax || k == Fragrance || k == Dye || k == Additive }

// Finish is dyed or undyed.
type Finish string

// The finishes; AnyFinish is for jar parts that both take.
const (
	Colored   Finish = "colored"
	Natural   Finish = "natural"
	AnyFinish Finish = "any"
)

// Book is everything that was read.
type Book struct {
	// Name is the file's name without folder and extension; Print a short
	// fingerprint of its bytes.
	Name  string
	Path  string
	Print string

	Settings  Settings
	Materials []*Material
	Purchases []Purchase
	Recipes   []*Recipe
	Jars      []*Jar
	Products  []*Product
	Channels  []*Channel
	Sales     Sales
	Pours     []Pour
	Counts    []Count
	Overheads []Overhead
	Markets   []*Market
	Seasons   []Season
	Burns     []Burn

	// Tables tells what was found; a table that is there but empty is in it.
	Tables   []Table
	Problems problem.List
	// Orders and Customers are how many orders and customers the lines of Sales
	// tell apart: the numbers that they have go from 1 to it. SaleMarkets are the
	// distinct spellings of markets.
	Orders      int
	Customers   int
	SaleMarkets Texts
	// SaleSheets are the sheets and files that sales were read from.
	SaleSheets []string
}

// TableName is one of the tables of a book.
type TableName string

// The tables.
const (
	TSettings    TableName = "Settings"
	TMaterials   TableName = "Materials"
	TPurchases   TableName = "Purchases"
	TRecipes     TableName = "Recipes"
	TJars        TableName = "Jars"
	TJarParts    TableName = "Jar parts"
	TProducts    TableName = "Products"
	TChannels    TableName = "Channels"
	TSales       TableName = "Sales"
	TPours       TableName = "Pours"
	TStockCounts TableName = "Stock counts"
	TOverheads   TableName = "Overheads"
	TMarkets     TableName = "Markets"
	TSeasons     TableName = "Seasons"
	TBurnTests   TableName = "Burn tests"
)

// TableNames lists the tables in the order of the design.
var TableNames = []TableName{
	TSettings, TMaterials, TPurchases, TRecipes, TJars, TJarParts, TProducts,
	TChannels, TSales, TPours, TStockCounts, TOverheads, TMarkets, TSeasons, TBurnTests,
}

// Table tells where a table was found and what was made of it. A table may be
// found more than once (several Sales sheets).
type Table struct {
	Table   TableName
	Heading cell.Ref // first cell of the heading row
	Fields  []Field
	Rows    int // data rows read
	LeftOut int // rows left out, each with a problem
	// Sure is 0 to 1: how certain the recognition is.
	Sure float64
}

// Field is a column of a table that was recognised, or (Name "") was not.
type Field struct {
	Name    string // the field's name in the design, such as "pack price"
	Heading string // what stands in the heading cell
	At      cell.Ref
}

// Heading is the first cell of the heading row of a table; none for one that is
// not there.
func (b *Book) Heading(t TableName) cell.Ref {
	i := slices.IndexFunc(b.Tables, func(x Table) bool { return x.Table == t })
	if i < 0 {
		return cell.Ref{}
	}
	return b.Tables[i].Heading
}

// Has reports whether a table was found.
func (b *Book) Has(t TableName) bool {
	for _, x := range b.Tables {
		if x.Table == t {
			return true
		}
	}
	return false
}

// Material is something that is bought. Money here and below is in the book's
// currency.
type Material struct {
	Name  cell.Text
	Kind  Kind
	Dim   unit.Dimension // that of its first pack size
	Packs []Pack

	Supplier         cell.Text
	OnHand           cell.Num // base unit of Dim, summed over its rows; Blank when none says
	LeadDays         cell.Num
	Density          cell.Num // g/mL
	DropsPerML       cell.Num
	DropsPerGram     cell.Num
	MaxLoad          cell.Num // fraction of the wax
	FlashPoint       cell.Text
	Base             cell.Text // "oil", "water" or ""
	ContainsAdditive cell.Bool
}

// Pack is a pack size of a material: Size in the base unit of the pack's own
// dimension Dim (which may differ from the material's: density converts).
type Pack struct {
	Size    cell.Num
	Dim     unit.Dimension
	Price   Money
	Freight Money
	At      cell.Ref
}

// Purchase is a row of Purchases. Qty is in base units of Dim, in which packs
// have been multiplied out; Pack is the size of one of them in base units, 0
// where the quantity is an amount.
type Purchase struct {
	Day       day.Date
	Material  *Material
	Qty       cell.Num
	Pack      float64
	Dim       unit.Dimension
	Paid      Money
	Freight   Money
	Supplier  cell.Text
	Reference cell.Text
	At        cell.Ref
}

// Recipe is a list of ingredients.
type Recipe struct {
	Name          cell.Text
	Ingredients   []Ingredient
	CureDays      cell.Num
	MeltTemp      cell.Text // as written, such as "185 F"
	DyeTemp       cell.Text
	FragranceTemp cell.Text
	PourTemp      cell.Text
	Swatch        cell.Text // "#rrggbb"
	BatchWax      cell.Num  // g
	LeftOut       []LeftOut
}

// LeftOut is a row of a recipe or of a jar that could not be read, so that what
// is made of it lacks something.
type LeftOut struct {
	Name   string // of the material; "" when that is blank
	Kind   Kind   // "" when there is no such material
	Finish Finish // which finish lacks it; any when that is not known
	At     cell.Ref
}

// Ingredient is a row of Recipes. Amount is as written in Rate's unit (8 for
// 8 %), also where the cell is percent-formatted; on a wax row it is parts.
type Ingredient struct {
	Material *Material
	Amount   cell.Num
	Rate     unit.Rate
	At       cell.Ref
}

// HasDye reports whether any ingredient is a dye.
func (r *Recipe) HasDye() bool {
	for _, i := range r.Ingredients {
		if i.Material.Kind == Dye {
			return true
		}
	}
	return false
}

// Jar is a jar or tin and what goes with it.
type Jar struct {
	Name        cell.Text
	Fill        cell.Num // g; Blank when it follows from the capacity
	Capacity    cell.Num // mL
	FillPercent cell.Num // fraction
	Opaque      cell.Bool
	Diameter    cell.Text
	Parts       []Part
	LeftOut     []LeftOut
}

// Part is a row of Jar parts: Count in the base unit of the material's Dim, per jar.
type Part struct {
	Material *Material
	Count    cell.Num
	Dim      unit.Dimension
	Finish   Finish
	At       cell.Ref
}

// Product is a recipe in a jar, dyed or not.
type Product struct {
	Code      cell.Text
	Name      cell.Text
	Recipe    *Recipe
	Jar       *Jar
	Finish    Finish
	List      Money
	Wholesale Money
	OnHand    cell.Num // finished units
	Minutes   cell.Num // of work on a unit, beside those of its batch
	Active    cell.Bool
}

// Title is the product's name, or its code where it has none.
func (p *Product) Title() string {
	if p.Name.V != "" {
		return p.Name.V
	}
	return p.Code.V
}

// Channel is a way to sell. Listed is false for a name met only in Sales or
// Markets, which then has no fees.
type Channel struct {
	Name      cell.Text
	Fee       cell.Num // fraction of net
	PerOrder  Money
	PerUnit   Money
	Wholesale bool
	Listed    bool
}

// Pour is a row of Pours: good units made.
type Pour struct {
	Day     day.Date
	Product *Product
	Units   cell.Num
	Batch   cell.Text
	At      cell.Ref
}

// Count is a row of Stock counts; exactly one of Material and Product is set.
// Qty is in the base unit of Dim.
type Count struct {
	Day      day.Date
	Material *Material
	Product  *Product
	Qty      cell.Num
	Dim      unit.Dimension
	At       cell.Ref
}

// Overhead is a monthly cost; From and To bound the days it is in force, Blank
// for open.
type Overhead struct {
	Name   cell.Text
	Amount Money
	From   Date
	To     Date
}

// Market is a market that was or will be; Expected and Capacity are units of all
// products, Booth is for all its days.
type Market struct {
	Name     cell.Text
	Day      day.Date
	Days     cell.Num
	Channel  *Channel // nil when none
	Expected cell.Num
	Like     cell.Text
	Growth   cell.Num // fraction
	Capacity cell.Num
	Booth    Money
	At       cell.Ref
}

// Season is a stretch of the year; From after To wraps over new year.
type Season struct {
	Name     cell.Text
	From, To day.MonthDay
}

// Burn is a burn test.
type Burn struct {
	Day    day.Date
	Recipe *Recipe
	Jar    *Jar
	Finish Finish
	Wick   cell.Text
	Pass   bool
	Note   cell.Text
}
