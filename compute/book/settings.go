package book

import "pourbook/compute/cell"

// Setting is a setting's name as it stands in a book.
type Setting string

// The settings.
const (
	Currency        Setting = "currency"
	FragranceBasis  Setting = "fragrance basis"
	PourLoss        Setting = "pour loss"
	RejectRate      Setting = "reject rate"
	LaborRate       Setting = "labor rate per hour"
	UnitMinutes     Setting = "minutes per unit"
	BatchMinutes    Setting = "minutes per batch"
	ColoredMinutes  Setting = "colored batch extra minutes"
	OverheadMonth   Setting = "overhead per month"
	ProductiveHours Setting = "productive hours per month"
	CostMethod      Setting = "cost method"
	TargetMargin    Setting = "target margin"
	PriceEnding     Setting = "price ending"
	CureDays        Setting = "cure days"
	TestJars        Setting = "test jars per wick"
	Paper           Setting = "paper"
	Pitcher         Setting = "pitcher capacity"
	PourMinutes     Setting = "pour minutes per day"
	PourDays        Setting = "pour days"
	WipeMinutes     Setting = "wipe minutes"
	WashMinutes     Setting = "wash minutes"
	ScaleResolution Setting = "scale resolution"
	DropsPerML      Setting = "drops per mL"
	DyeDensity      Setting = "dye density"
	DropLimit       Setting = "drop limit per lb"
	DoseErrorLimit  Setting = "dose error limit"
	LeftoverValue   Setting = "leftover value"
	DemandSpread    Setting = "demand spread r"
	MixPrior        Setting = "mix prior"
	WholesaleDisc   Setting = "wholesale discount"
	CureMargin      Setting = "cure margin"
	LabelSetup      Setting = "label set-up"
	ShopName        Setting = "shop"
	WholesaleFloor  Setting = "wholesale floor"
)

// SettingKind is how a setting's value is read.
type SettingKind uint8

// The kinds of setting.
const (
	KText     SettingKind = iota
	KNumber               // a plain number, 0 or more
	KPercent              // a fraction
	KMoney                // an amount of currency
	KMinutes              // minutes; "1 h" is read
	KMass                 // grams; a unit is read
	KWeekdays             // names of days, or "every day"
	KEnding               // a price ending such as .95
	KDensity              // g/mL
)

// Def is a setting's definition. Default "" means that a blank has none (the
// program estimates it or does without).
type Def struct {
	Name    Setting
	Kind    SettingKind
	Default string
	Value   float64 // the default in base units, for kinds that are numbers
	// Suspect is the bound under which a bare number above 0 was probably
	// meant as a fraction (percent settings only).
	Suspect float64
}

// Defs is every setting with its default.
var Defs = []Def{
	{Name: ShopName, Kind: KText},
	{Name: Currency, Kind: KText, Default: "USD"},
	{Name: FragranceBasis, Kind: KText, Default: "wax"},
	{Name: PourLoss, Kind: KPercent, Default: "2 %", Value: 0.02, Suspect: 0.2},
	{Name: RejectRate, Kind: KPercent, Default: "1 %", Value: 0.01, Suspect: 0.2},
	{Name: LaborRate, Kind: KMoney, Default: "15", Value: 15},
	{Name: UnitMinutes, Kind: KMinutes, Default: "4", Value: 4},
	{Name: BatchMinutes, Kind: KMinutes, Default: "20", Value: 20},
	{Name: ColoredMinutes, Kind: KMinutes, Default: "8", Value: 8},
	{Name: OverheadMonth, Kind: KMoney, Default: "0"},
	{Name: ProductiveHours, Kind: KNumber, Default: "80", Value: 80},
	{Name: CostMethod, Kind: KText},
	{Name: TargetMargin, Kind: KPercent, Default: "60 %", Value: 0.6, Suspect: 1},
	{Name: PriceEnding, Kind: KEnding, Default: ".00"},
	{Name: CureDays, Kind: KNumber, Default: "14", Value: 14},
	{Name: CureMargin, Kind: KNumber, Default: "1", Value: 1},
	{Name: TestJars, Kind: KNumber, Default: "3", Value: 3},
	{Name: LabelSetup, Kind: KMoney, Default: "0"},
	{Name: Pitcher, Kind: KMass, Default: "1,800 g", Value: 1800},
	{Name: PourMinutes, Kind: KMinutes, Default: "180", Value: 180},
	{Name: PourDays, Kind: KWeekdays, Default: "every day"},
	{Name: WipeMinutes, Kind: KMinutes, Default: "3", Value: 3},
	{Name: WashMinutes, Kind: KMinutes, Default: "10", Value: 10},
	{Name: ScaleResolution, Kind: KMass, Default: "1 g", Value: 1},
	{Name: DropsPerML, Kind: KNumber, Default: "20", Value: 20},
	{Name: DyeDensity, Kind: KDensity, Default: "0.90 g/mL", Value: 0.9},
	{Name: DropLimit, Kind: KNumber, Default: "10", Value: 10},
	{Name: DoseErrorLimit, Kind: KPercent, Default: "5 %", Value: 0.05, Suspect: 0.2},
	{Name: LeftoverValue, Kind: KPercent, Default: "70 %", Value: 0.7, Suspect: 1},
	{Name: DemandSpread, Kind: KNumber},
	{Name: MixPrior, Kind: KNumber, Default: "20", Value: 20},
	{Name: WholesaleDisc, Kind: KPercent, Default: "50 %", Value: 0.5, Suspect: 1},
	{Name: WholesaleFloor, Kind: KPercent, Default: "30 %", Value: 0.3, Suspect: 1},
	{Name: Paper, Kind: KText, Default: "Letter"},
}

// Settings is the value of every setting, typed or assumed. The zero value has
// only defaults.
type Settings struct {
	num  map[Setting]cell.Num
	text map[Setting]cell.Text
}

// Find is a setting's definition.
func Find(name Setting) (Def, bool) {
	for _, d := range Defs {
		if cell.Fold(string(d.Name)) == cell.Fold(string(name)) {
			return d, true
		}
	}
	return Def{}, false
}

// Num is a setting that is a number, in base units (percents are fractions).
// It is Assumed where nothing was typed, and Blank where there is no default.
func (s Settings) Num(name Setting) cell.Num {
	if v, ok := s.num[name]; ok {
		return v
	}
	d, _ := Find(name)
	if d.Default == "" {
		return cell.Num{}
	}
	return cell.Num{V: d.Value, Raw: d.Default, State: cell.Assumed}
}

// Text is a setting that is text, and the typed text of any other.
func (s Settings) Text(name Setting) cell.Text {
	if v, ok := s.text[name]; ok {
		return v
	}
	d, _ := Find(name)
	if d.Default == "" {
		return cell.Text{}
	}
	return cell.Text{V: d.Default, Raw: d.Default, State: cell.Assumed}
}

// SetNum records a setting that was read.
func (s *Settings) SetNum(name Setting, v cell.Num) {
	if s.num == nil {
		s.num = map[Setting]cell.Num{}
	}
	s.num[name] = v
}

// SetText records a setting that was read.
func (s *Settings) SetText(name Setting, v cell.Text) {
	if s.text == nil {
		s.text = map[Setting]cell.Text{}
	}
	s.text[name] = v
}

// Clone is a copy that can be changed on its own.
func (s Settings) Clone() Settings {
	var c Settings
	for k, v := range s.num {
		c.SetNum(k, v)
	}
	for k, v := range s.text {
		c.SetText(k, v)
	}
	return c
}

// Dosing is what turns drops of a material into grams: drops per gram where
// that is given, else drops per mL / density, with the settings' defaults.
func (b *Book) Dosing(m *Material) (dropsPerGram, dropsPerML, density cell.Num) {
	dropsPerGram, dropsPerML, density = m.DropsPerGram, m.DropsPerML, m.Density
	if !dropsPerML.OK() && dropsPerML.State != cell.Bad {
		dropsPerML = b.Settings.Num(DropsPerML)
	}
	if !density.OK() && density.State != cell.Bad && m.Kind == Dye {
		density = b.Settings.Num(DyeDensity)
	}
	return dropsPerGram, dropsPerML, density
}
