package quantity

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"
)

// show prints quantities in one line: text, kind, canonical unit and values;
// ~ approximate, ? guessed, # ordinal, ! implied, Δ difference, = one each, n/m
// counts.
func show(qs []Quantity) string {
	var out []string
	for _, q := range qs {
		items, unit, err := q.Canonical()
		if err != nil {
			items, unit = q.Items, q.Unit
		}
		var vals []string
		for _, it := range items {
			vals = append(vals, showItem(it))
		}
		marks := ""
		for _, m := range []struct {
			on   bool
			mark string
		}{{q.Approx, "~"}, {q.Guessed, "?"}, {q.Ordinal, "#"}, {q.Implied, "!"}, {q.Difference, "Δ"}, {q.Each, "="}} {
			if m.on {
				marks += m.mark
			}
		}
		if q.Of != nil {
			marks += fmt.Sprintf("%d/%d", q.Of.Part, q.Of.Whole)
		}
		out = append(out, strings.TrimSpace(fmt.Sprintf("%s %s [%s] %s %s", q.Kind, unit, q.Text, strings.Join(vals, " "), marks)))
	}
	return strings.Join(out, " | ")
}

func showItem(it Item) string {
	end := func(v *float64) string {
		if v == nil {
			return ""
		}
		return fmt.Sprintf("%.6g", *v)
	}
	s := end(it.Low)
	if it.Low == nil || it.High == nil || *it.Low != *it.High {
		s += ".." + end(it.High)
	}
	if it.Spread != nil {
		s += "±" + end(it.Spread)
	}
	return s
}

// The sentences are made up for the tests. Expected values are worked out by
// hand; 9/5 and 32 for Fahrenheit, a month 30 d, a year 365 d.
var findCases = []struct{ name, in, want string }{
	{"not to be below a bound", "The rest should not be shorter than two months.", "duration d [two months] 60.."},
	{"not to be below a bound, fr", "Elle ne devrait pas être plus courte que deux mois.", "duration d [deux mois] 60.."},
	{"not to be below a bound, de", "Sie sollte nicht kürzer sein als zwei Monate.", "duration d [zwei Monate] 60.."},
	{"not to fall below", "It must not fall below 12 °C.", "temperature degC [12 °C] 12.."},
	{"a count behind a time", "Ninety days brought 131, sixty days 74 and thirty days 13.", "duration d [Ninety days] 90 | duration d [sixty days] 60 | duration d [thirty days] 30"},
	// Temperatures.
	{"single", "kept at 4 °C in mud", "temperature degC [4 °C] 4"},
	{"ordinal sign", "agua a 24ºC", "temperature degC [24ºC] 24"},
	{"blank inside", "at 10 ° C or so", "temperature degC [10 ° C] 10 ~"},
	{"range dash", "20–24 °C", "temperature degC [20–24 °C] 20..24"},
	{"range spaced", "20 - 24 °C", "temperature degC [20 - 24 °C] 20..24"},
	{"range words", "from 10 to 15 °C", "temperature degC [10 to 15 °C] 10..15"},
	{"range with units", "from 4° to 8°C", "temperature degC [4° to 8°C] 4..8"},
	{"between", "between 5 and 10 °C", "temperature degC [5 and 10 °C] 5..10"},
	{"spanish", "entre 26 y 28 ºC", "temperature degC [26 y 28 ºC] 26..28"},
	{"german", "zwischen 8 und 12 Grad Celsius", "temperature degC [8 und 12 Grad Celsius] 8..12"},
	{"italian", "tra i 20 e i 25 °C", "temperature degC [20 e i 25 °C] 20..25"},
	{"and is a list", "at 5 and 10 °C", "temperature degC [5 and 10 °C] 5 10"},
	{"list", "at 10, 15 and 20 °C", "temperature degC [10, 15 and 20 °C] 10 15 20"},
	{"list of ranges", "18–26, 19–23 and 15–18 ºC", "temperature degC [18–26, 19–23 and 15–18 ºC] 18..26 19..23 15..18"},
	{"nor", "Neither at 10 nor at 50 °C", "temperature degC [10 nor at 50 °C] 10 50"},
	{"respectively", "at 5 and 10 °C, respectively,", "temperature degC [5 and 10 °C] 5 10 ="},
	{"in turn", "raised from 5 to 10 to 20 °C", "temperature degC [5 to 10 to 20 °C] 5 10 20 ="},
	{"own units", "at 34 °C and 38 °C", "temperature degC [34 °C and 38 °C] 34 38"},
	{"own units, a list of three", "at 5 °C, 10 °C or 15 °C", "temperature degC [5 °C, 10 °C or 15 °C] 5 10 15"},
	{"own units, two statements", "dried 90 days, 0 days cold", "duration d [90 days] 90 | duration d [0 days] 0"},
	{"compared", "the difference between 10 and 20 °C", "temperature degC [10 and 20 °C] 10 20 ="},
	{"compared, own units", "differences between the 38 °C and 34 °C series", "temperature degC [38 °C] 38 | temperature degC [34 °C] 34"},
	{"both", "both the 34 °C and 38 °C lots", "temperature degC [34 °C] 34 | temperature degC [38 °C] 38"},
	{"falling", "solutions of 100 mg/L and 1 mg/L of salt", "salinity g/L [100 mg/L] 0.1 | salinity g/L [1 mg/L] 0.001"},
	{"part", "a tenth of the eggs hatched; of the rest four fifths did so", "fraction % [a tenth] 10 | fraction % [four fifths] 80"},
	{"loose part", "about a third of the eggs hatched", ""},
	{"within the week", "they hatched within the week, the last within the fortnight", "duration d [the week] ..7 | duration d [the fortnight] ..14"},
	{"mornings", "two mornings later, one morning in May, on the third morning", "duration d [two mornings] 2 | duration d [third morning] 3 #"},
	{"or stronger", "in 25 g/L or stronger", "salinity g/L [25 g/L] 25.."},
	{"never exceeded", "the water never exceeded 39 °F", "temperature degC [39 °F] ..3.88889"},
	{"ordinal without unit", "the first on the fourth day and the last on the ninth", "duration d [fourth day] 4 # | duration d [ninth] 9 ?#"},
	{"lengths in turn", "the first for 60 and the second for 90 days", "duration d [60] 60 ? | duration d [90 days] 90"},
	{"known length", "longer than the 30 days that suffice", "duration d [30 days] 30"},
	{"count and share", "after 45 days 33, or 66 per cent.", "duration d [45 days] 45 | fraction % [66 per cent] 66"},
	{"minus with a dash and a blank", "at – 18 °C", "temperature degC [– 18 °C] -18"},
	{"a capital for a degree", "frozen at -18 C", "temperature degC [-18 C] -18 ?"},
	{"a capital for a degree F", "eggs hatched at 75F", "temperature degC [75F] 23.8889 ?"},
	{"article before a treatment", "A week of cold at 4 °C", "duration d [A week] 7 | temperature degC [4 °C] 4"},
	{"share beside salt", "con salinidad la eclosión del 35 % a 2 g/L", "fraction % [35 %] 35 | salinity g/L [2 g/L] 2"},
	{"share behind a salinity", "une salinité de 290 ; ensuite 29 % des kystes", "salinity g/L [290] 290 ? | fraction % [29 %] 29"},
	{"pH kept", "28 °C e o pH manteve-se acima de 8", "temperature degC [28 °C] 28 | ph 1 [pH manteve-se acima de 8] 8.."},
	{"minus", "frozen at −12 °C", "temperature degC [−12 °C] -12"},
	{"minus hyphen", "at -15°C", "temperature degC [-15°C] -15"},
	{"minus en dash", "at –20 °C", "temperature degC [–20 °C] -20"},
	{"minus with blank", "at − 20 °C", "temperature degC [− 20 °C] -20"},
	{"negative range", "at −10 to −20 °C", "temperature degC [−10 to −20 °C] -20..-10"},
	{"negative range dashes", "-20--10 °C", "temperature degC [-20--10 °C] -20..-10"},
	{"across zero", "-5 to 5 °C", "temperature degC [-5 to 5 °C] -5..5"},
	{"spread", "25 ± 1 °C", "temperature degC [25 ± 1 °C] 25±1"},
	{"spread with units", "27°C ± 1°C", "temperature degC [27°C ± 1°C] 27±1"},
	{"spread in words", "25 plus or minus 2 degrees C", "temperature degC [25 plus or minus 2 degrees C] 25±2"},
	{"fahrenheit", "at 39.2 °F", "temperature degC [39.2 °F] 4"},
	{"fahrenheit words", "50 to 95 degrees Fahrenheit", "temperature degC [50 to 95 degrees Fahrenheit] 10..35"},
	{"kelvin", "at 293.15 K", "temperature degC [293.15 K] 20"},
	{"scan o", "incubated at 10 oC", "temperature degC [10 oC] 10 ?"},
	{"scan zero", "incubated at 10 0C", "temperature degC [10 0C] 10 ?"},
	{"bare letter", "a temperature of 15 C", "temperature degC [15 C] 15 ?"},
	{"initial", "15 C. salina were counted", ""},
	{"bare degrees", "warmed from 15 to 25 degrees", "temperature degC [15 to 25 degrees] 15..25 ?"},
	{"latitude", "a pool at 38° N", ""},
	{"one word", "at 15 degreesC", "temperature degC [15 degreesC] 15"},
	{"scanned plus", "kept at 25 + 1 °C", "temperature degC [25 + 1 °C] 25±1 ?"},
	{"range with odd blanks", "20° -25°C", "temperature degC [20° -25°C] 20..25"},
	{"range behind the mean", "27.6 ± 2.6°C (range 23.8–33.9)", "temperature degC [27.6 ± 2.6°C] 27.6±2.6 | temperature degC [23.8–33.9] 23.8..33.9 ?"},
	{"citation behind", "at 25 °C (12–15)", "temperature degC [25 °C] 25"},
	{"hardness", "warm water of 5° dH", ""},
	{"cooler", "3 °C cooler than the pool", "temperature degC [3 °C] 3 Δ"},
	{"rise", "a rise of 9 °F", "temperature degC [9 °F] 5 Δ"},
	{"rate", "cooled by 1 °C/min", "other degC/min [1 °C/min] 1"},

	{"minus in words", "bei minus 20 °C", "temperature degC [minus 20 °C] -20"},
	{"at least is no minus", "al menos 20 °C", "temperature degC [20 °C] 20.."},
	{"below zero", "18 °C below zero", "temperature degC [18 °C below zero] -18"},
	{"signs", "between −5 °C and +5 °C", "temperature degC [−5 °C and +5 °C] -5..5"},
	{"deviation named", "12.3 °C (SD 2.1)", "temperature degC [12.3 °C (SD 2.1)] 12.3±2.1"},
	{"unit at the end", "12 d at 10, 7 d at 15 and 4 d at 20 °C", "duration d [12 d] 12 | temperature degC [10] 10 ? | duration d [7 d] 7 | temperature degC [15] 15 ? | duration d [4 d] 4 | temperature degC [20 °C] 20"},

	// Bounds (low only, high only; within is high only for one value).
	{"at least", "at least 30 d", "duration d [30 d] 30.."},
	{"sign", ">= 30 d", "duration d [30 d] 30.."},
	{"less", "in less than 24 h", "duration d [24 h] ..1"},
	{"or more", "pH : 8 ou plus", "ph 1 [pH : 8] 8.."},
	{"within", "within 17 days", "duration d [17 days] ..17"},
	{"within a range", "within 3-8 days", "duration d [3-8 days] 3..8"},
	{"up to", "up to 80 %", "fraction % [80 %] ..80"},
	{"bound on a range", "almeno 10-15 giorni", "duration d [10-15 giorni] 10.. "},
	{"not more", "not more than 15 °C", "temperature degC [15 °C] ..15"},
	{"over a time", "over 4 weeks", "duration d [4 weeks] 28"},
	{"for over", "for over 4 weeks", "duration d [4 weeks] 28.."},
	{"ranged over", "ranged over 20–24 °C", "temperature degC [20–24 °C] 20..24"},
	{"or above", "4°C or above", "temperature degC [4°C] 4.."},
	{"under what follows", "at 25 °C and under a lamp", "temperature degC [25 °C] 25"},
	{"an observed minimum", "a minimum of 63.4%", "fraction % [63.4%] 63.4"},
	{"german up to", "bis zwei Wochen", "duration d [zwei Wochen] ..14"},
	{"portuguese from", "a partir de 12 horas", "duration d [12 horas] 0.5.."},
	{"two bounds", "none hatched below 5 or above 30 °C", "temperature degC [5 or above 30 °C] ..5 30.."},
	{"two signs", ">25 and <30 °C", "temperature degC [25 and <30 °C] 25..30"},
	{"or with a bound", "no pasar de los 28 o 30ºC", "temperature degC [28 o 30ºC] 28.."},

	// Times.
	{"words", "two weeks", "duration d [two weeks] 14"},
	{"compound words", "twenty-four hours", "duration d [twenty-four hours] 1"},
	{"spanish compound", "treinta y seis horas", "duration d [treinta y seis horas] 1.5"},
	{"article range", "nach ein bis 14 Tagen", "duration d [ein bis 14 Tagen] 1..14"},
	{"french", "vingt ans", "duration d [vingt ans] 7300"},
	{"or", "deux ou trois jours", "duration d [deux ou trois jours] 2..3"},
	{"or list", "4, 8 or 12 weeks", "duration d [4, 8 or 12 weeks] 28 56 84"},
	{"a dozen", "a dozen days", "duration d [a dozen days] 12"},
	{"half", "half an hour", "duration d [half an hour] 0.0208333"},
	{"and a half", "within a month and a half", "duration d [a month and a half] ..45"},
	{"one and a half", "one and a half years", "duration d [one and a half years] 547.5"},
	{"a day or two", "A day or two later", "duration d [A day or two] 1..2"},
	{"article alone", "on a day of rain", ""},
	{"article counted", "after a week", "duration d [a week] 7"},
	{"later", "a fortnight afterwards", "duration d [a fortnight] 14"},
	{"period", "a 2-week period", "duration d [2-week] 14"},
	{"age", "7-day-old larvae", "duration d [7-day] 7"},
	{"hanging hyphen", "2- to 4-week stays", "duration d [2- to 4-week] 14..28"},
	{"odd blanks", "5 - 7-d", "duration d [5 - 7-d] 5..7"},
	{"slash", "in 15/20 ore", "duration d [15/20 ore] 0.625..0.833333"},
	{"mixed units", "after 30 min to 2 h", "duration d [30 min to 2 h] 0.0208333..0.0833333"},
	{"hours and minutes", "after 1 h 30 min", "duration d [1 h 30 min] 0.0625"},
	{"ordinal", "in the 15th minute", "duration d [15th minute] 0.0104167 #"},
	{"ordinal week", "in the second week", "duration d [second week] 7..14 #"},
	{"ordinal range", "between the second and the third day", "duration d [second and the third day] 2..3 #"},
	{"clock", "on day 14", "duration d [day 14] 14 #"},
	{"clock list", "on days 3, 5 and 7", "duration d [days 3, 5 and 7] 3 5 7 #"},
	{"portuguese ordinal", "no 8º dia", "duration d [8º dia] 8 #"},
	{"german ordinal", "am 8. Tag", "duration d [8. Tag] 8 #"},
	{"ordinal list", "am 3. und 5. Tag", "duration d [3. und 5. Tag] 3 5 #"},
	{"clock range", "from day 3 to day 8", "duration d [day 3 to day 8] 3..8 #"},
	{"time of day", "at 1200 h and 0830 h", ""},
	{"hyphened half", "one-and-a-half days", "duration d [one-and-a-half days] 1.5"},
	{"possessive", "5 days' storage", "duration d [5 days] 5"},
	{"every third", "turned every third day", ""},
	{"languages do not mix", "dentro dos cistos", ""},
	{"nor in a list", "47 % in the former of the two media and 11 % in the latter", "fraction % [47 %] 47 | fraction % [11 %] 11"},
	{"nor in a range", "this is due to 8 °C", "temperature degC [8 °C] 8"},
	{"elided", "within 3 days, those of the others within 4.", "duration d [3 days] ..3 | duration d [4] ..4 ?"},

	// Decimals and thousands.
	{"decimal comma", "9,0, 10 y 15,67 h", "duration d [9,0, 10 y 15,67 h] 0.375 0.416667 0.652917"},
	{"apostrophe", "32'5 gr/l", "salinity g/L [32'5 gr/l] 32.5"},
	{"middle dot", "18·5 °C", "temperature degC [18·5 °C] 18.5"},
	{"thousands", "2,340 µS/cm", "conductivity uS/cm [2,340 µS/cm] 2340"},
	{"thousands with commas about", "5,3 mg/l NaCl bis 2.340 µS/cm", "salinity g/L [5,3 mg/l] 0.0053 | conductivity uS/cm [2.340 µS/cm] ..2340"},
	{"thin space", "2\u2009340 µS/cm", "conductivity uS/cm [2\u2009340 µS/cm] 2340"},
	{"two and a half", "2 1/2 h", "duration d [2 1/2 h] 0.104167"},
	{"half glyph", "1½ h", "duration d [1½ h] 0.0625"},
	{"date", "on 12.05.2001 h", ""},

	// Water.
	{"micro", "50 to 200 μS cm-1", "conductivity uS/cm [50 to 200 μS cm-1] 50..200"},
	{"milli", "1.2 mS/ cm", "conductivity uS/cm [1.2 mS/ cm] 1200"},
	{"deci", "2 dS/m", "conductivity uS/cm [2 dS/m] 2000"},
	{"mho", "450 µmhos/cm", "conductivity uS/cm [450 µmhos/cm] 450"},
	{"raised", "350 µS cm⁻¹", "conductivity uS/cm [350 µS cm⁻¹] 350"},
	{"scanned micro", "350 pS/cm", "conductivity uS/cm [350 pS/cm] 350 ?"},
	{"per cm left out", "120 µS", "conductivity uS/cm [120 µS] 120 ?"},
	{"scanned permille", "salinity 35 %o", "salinity g/L [35 %o] 35 ?"},
	{"exponent with blank", "3.5 g L −1 salinity", "salinity g/L [3.5 g L −1] 3.5"},
	{"psu", "a 30, 15 y 5 UPS", "salinity g/L [30, 15 y 5 UPS] 30 15 5"},
	{"ppt", "35 ppt", "salinity g/L [35 ppt] 35"},
	{"permille of salt", "salinities of 15‰ and 25‰", "salinity g/L [15‰ and 25‰] 15 25"},
	{"salt solution", "a 2% salt solution", "salinity g/L [2%] 20"},
	{"salt per litre", "30 gramas de sal puro (sem aditivos) por litro", "salinity g/L [30 gramas] 30 ?"},
	{"no unit", "a salinity of 35 and 12 h of light", "salinity g/L [35] 35 ? | photoperiod h [12 h] 12"},
	{"dissolved solids", "TDS below 60 mg/L", "salinity g/L [60 mg/L] ..0.06"},
	{"oxygen", "oxygen fell to 2.1 mg/L", "oxygen mg/L [2.1 mg/L] 2.1"},
	{"oxygen inside", "8.3 mg O2 l-1", "oxygen mg/L [8.3 mg O2 l-1] 8.3"},
	{"counts without their noun", "none of 400 eggs hatched, against 283 of 400 under the lamp", "fraction % [none of 400] 0 0/400 | fraction % [283 of 400] 70.75 283/400"},
	{"counts of something else", "eggs hatched in 283 of 400 and were seen in 16 out of 38 dishes", ""},
	{"a maximum near a value", "hatching had a broad maximum about 20 °C", "temperature degC [20 °C] 20 ~"},
	{"a maximum of a value", "at a maximum of about 20 °C", "temperature degC [20 °C] ..20 ~"},
	{"proportions of eggs", "By then 0.38 and 0.21 of the cysts had hatched", "fraction % [0.38 and 0.21] 38 21 ?"},
	{"a list with its article", "Eclosionaron el 61, el 44 y el 0 %", "fraction % [61, el 44 y el 0 %] 61 44 0"},
	{"another list's number behind a comma", "In one dish, in the other two, at 12 °C", "temperature degC [12 °C] 12"},
	{"the place of a maximum", "com máximo a 28 °C", "temperature degC [28 °C] 28"},
	{"a bound before what is measured", "Hatching was good up to a salinity of 4 g/L and above a temperature of 9 °C", "salinity g/L [4 g/L] ..4 | temperature degC [9 °C] 9.."},
	{"what is measured and no bound", "a temperature of 9 °C was kept", "temperature degC [9 °C] 9"},
	{"a time that waits behind a temperature", "bei 8 °C nach 12, bei 14 °C nach 6 Tagen", "temperature degC [8 °C] 8 | duration d [12] 12 ? | temperature degC [14 °C] 14 | duration d [6 Tagen] 6"},
	{"oxygen in a formula", "held at 0.9 mg O₂/L or 4 mg O₂ l⁻¹", "oxygen mg/L [0.9 mg O₂/L or 4 mg O₂ l⁻¹] 0.9 4"},
	{"bare degree", "water at 46° to 50° F", "temperature degC [46° to 50° F] 7.77778..10"},
	{"bare degree of a list", "water at 18° and 22° C", "temperature degC [18° and 22° C] 18 22"},
	{"a degree sign alone", "The temperature rose to 18° and the eggs hatched", "temperature degC [18°] 18 ?"},
	{"salt by the thousand", "In Wasser von 90 ‰ lebt nichts", "salinity g/L [90 ‰] 90"},
	{"proportions", "Hatching fractions were 0.42, 0.61 and 0.88, respectively", "fraction % [0.42, 0.61 and 0.88] 42 61 88 ?="},
	{"proportions that fall", "The proportion hatching fell from 0.71 at 0 g/L to 0.22 at 2 g/L", "fraction % [0.71] 71 ? | salinity g/L [0 g/L] 0 | fraction % [0.22] 22 ? | salinity g/L [2 g/L] 2"},
	{"a fraction of no share", "The fraction was 4 and the slope 0.3", ""},
	{"unit of a time at the end", "74 % after one year, 58 % after three and 9 % after eleven years", "fraction % [74 %] 74 | duration d [one year] 365 | fraction % [58 %] 58 | duration d [three] 1095 ? | fraction % [9 %] 9 | duration d [eleven years] 4015"},
	{"oxygen by volume", "oxygen of 2 ml/L", "oxygen mg/L [2 ml/L] 2.858"},
	{"one litre", "5 g of sea salt in one litre of water", "salinity g/L [5 g] 5 ? | other L [one litre] 1"},
	{"pH of something", "The pH of the water was 7.4", "ph 1 [pH of the water was 7.4] 7.4"},
	{"saturation", "over 90 % of saturation", "oxygen %sat [90 % of saturation] 90.."},
	{"pH", "pH 7.2", "ph 1 [pH 7.2] 7.2"},
	{"pH glued", "at pH7.2", "ph 1 [pH7.2] 7.2"},
	{"pH range", "a pH of 6.5-7", "ph 1 [pH of 6.5-7] 6.5..7"},
	{"pH list", "At pH 5.5, 6.5 and 8.5 the", "ph 1 [pH 5.5, 6.5 and 8.5] 5.5 6.5 8.5"},
	{"pH between", "A pH between 7.8 and 9", "ph 1 [pH between 7.8 and 9] 7.8..9"},
	{"pH bracket", "pH (from 3 to 12)", "ph 1 [pH (from 3 to 12)] 3..12"},
	{"pH bound", "pH por debajo de 6", "ph 1 [pH por debajo de 6] ..6"},
	{"pH in a sentence", "Der pH-Wert wurde auf 7,6 eingestellt", "ph 1 [pH-Wert wurde auf 7,6] 7.6"},
	{"pH not below", "Il pH non deve scendere sotto 8", "ph 1 [pH non deve scendere sotto 8] 8.."},
	{"share beside Artemia salina", "Artemia salina (88,2 %) eclosionó", "fraction % [88,2 %] 88.2"},
	{"litres and lux", "2,000 lux over 10 litres", "other lux [2,000 lux] 2000 | other L [10 litres] 10.."},

	{"german compound", "nach zweimonatiger Trockenheit und achtwöchigen Pausen", "duration d [zweimonatiger] 60 | duration d [achtwöchigen] 56"},
	{"compound of figures", "eine 14-tägige Kältezeit", "duration d [14-tägige] 14"},
	{"no compound", "einstweilig richtige achtbarige Wörter", ""},
	{"one to three in words", "de un à trois jours", "duration d [un à trois jours] 1..3"},
	{"one to two in words", "nach ein bis zwei Tagen", "duration d [ein bis zwei Tagen] 1..2"},
	{"one or two in words", "in una o due settimane", "duration d [una o due settimane] 7..14"},
	{"six in French", "au bout de six jours", "duration d [six jours] 6"},
	{"articles joined to prepositions", "dalle 20 alle 40 ore", "duration d [20 alle 40 ore] 0.833333..1.66667"},
	{"not above, in Spanish", "el agua no supera los 14 °C", "temperature degC [14 °C] ..14"},
	{"not above, in French", "la température ne dépasse pas 12 °C", "temperature degC [12 °C] ..12"},
	{"above, behind", "wenn die Temperatur 15 °C übersteigt", "temperature degC [15 °C] 15.."},

	// Light.
	{"L and D", "14L:10D", "photoperiod h [14L:10D] 14 10"},
	{"L before", "L16:D8", "photoperiod h [L16:D8] 16 8"},
	{"no sign between", "12L12D", "photoperiod h [12L12D] 12 12"},
	{"slash and words", "14 h/10 h light/dark", "photoperiod h [14 h/10 h] 14 10"},
	{"german light", "16 Stunden Licht und 8 Stunden Dunkelheit", "photoperiod h [16 Stunden Licht und 8 Stunden Dunkelheit] 16 8"},
	{"LD before", "LD 12:12", "photoperiod h [12:12] 12 12"},
	{"L:D after", "a 16:8 (L:D) photoperiod", "photoperiod h [16:8] 16 8"},
	{"words of light", "16 h light : 8 h dark", "photoperiod h [16 h light : 8 h dark] 16 8"},
	{"to", "12 hours of light to 12 hours of dark", "photoperiod h [12 hours of light to 12 hours of dark] 12 12"},
	{"hours of light", "under 14 hours of light", "photoperiod h [14 hours] 14"},
	{"clock time", "counted at 14:10", ""},

	// Shares and counts.
	{"percent", "84 to 90 per cent", "fraction % [84 to 90 per cent] 84..90"},
	{"prozent", "fünf Prozent", "fraction % [fünf Prozent] 5"},
	{"with units", "34 % à 45 %", "fraction % [34 % à 45 %] 34..45"},
	{"means and errors", "41 ± 6, 38 ± 5 and 12 ± 4 %", "fraction % [41 ± 6, 38 ± 5 and 12 ± 4 %] 41±6 38±5 12±4"},
	{"counts", "23 of 40 eggs", "fraction % [23 of 40] 57.5 23/40"},
	{"slash counts", "12/50 hatched", "fraction % [12/50] 24 12/50"},
	{"word counts", "three of 120 opened", "fraction % [three of 120] 2.5 3/120"},
	{"none of", "none of the 40 eggs hatched", "fraction % [none of the 40] 0 0/40"},
	{"other counts", "17 of 23 sites", ""},
	{"eggs", "20 to 45 eggs", "count eggs [20 to 45 eggs] 20..45"},
	{"several hundred", "several hundred eggs", ""},
	{"percentage named", "the percentage of eggs that hatched came to 74 in mud", "fraction % [74] 74 ?"},

	// Words that hide a number.
	{"refrigerated", "were refrigerated for 3 weeks", "temperature degC [refrigerated] 4 ~! | duration d [3 weeks] 21"},
	{"room", "at room temperature", "temperature degC [room temperature] 20..25 ~!"},

	// What is no quantity, or another one.
	{"years", "in 1998 and 1999", ""},
	{"decade", "in the 1990s", ""},
	{"year before a list", "In 1998, 15 °C", "temperature degC [15 °C] 15"},
	{"labels", "Fig. 3 and 15 °C", "temperature degC [15 °C] 15"},
	{"sample size", "n = 20, 15 and 10 °C", "temperature degC [15 and 10 °C] 15 10"},
	{"panel", "Fig. 8d shows", ""},
	{"formula", "NaHCO3 d", ""},
	{"per minute", "5 min-1", "other 1/min [5 min-1] 5"},
	{"flux", "14 W m-2", "other W/m2 [14 W m-2] 14"},
	{"per day", "2 mg/L per day", "other mg/L/d [2 mg/L per day] 2"},
	{"molar", "0.5 M NaOH", "other M [0.5 M] 0.5"},
	{"degree days", "120 degree-days", ""},
	{"length", "20 m deep", "length mm [20 m] 20000"},
	{"significance", "15 °C (P < 0.05).", "temperature degC [15 °C] 15"},
}

func TestFind(t *testing.T) {
	for _, c := range findCases {
		t.Run(c.name, func(t *testing.T) {
			if got, want := show(Find(c.in)), strings.TrimSpace(c.want); got != want {
				t.Errorf("%q\n got %s\nwant %s", c.in, got, want)
			}
		})
	}
}

func TestItemSpans(t *testing.T) {
	in := "at 10, 15–18 and 20 °C"
	var got []string
	for _, it := range Find(in)[0].Items {
		got = append(got, in[it.Start:it.End])
	}
	if s := strings.Join(got, "|"); s != "10|15–18|20" {
		t.Errorf("items of %q: %s", in, s)
	}
}

// checkSound fails t unless the quantities of text are ordered, do not overlap,
// lie inside it on character boundaries and have sound items.
func checkSound(t *testing.T, text string) {
	t.Helper()
	end := 0
	for _, q := range Find(text) {
		switch {
		case q.Start < end || q.End <= q.Start || q.End > len(text):
			t.Fatalf("%q: span %d to %d after %d", text, q.Start, q.End, end)
		case text[q.Start:q.End] != q.Text:
			t.Fatalf("%q: text %q is not that of its span", text, q.Text)
		case utf8.ValidString(text) && !utf8.ValidString(q.Text):
			t.Fatalf("%q: %q cuts a character", text, q.Text)
		case q.Unit == "" || q.Kind == "" || len(q.Items) == 0:
			t.Fatalf("%q: %+v lacks unit, kind or items", text, q)
		}
		end = q.End
		at := q.Start
		for _, it := range q.Items {
			if it.Start < at || it.End < it.Start || it.End > q.End {
				t.Fatalf("%q: item %d to %d in %d to %d", text, it.Start, it.End, q.Start, q.End)
			}
			at = it.End
			if it.Low != nil && it.High != nil && *it.Low > *it.High {
				t.Fatalf("%q: %v above %v", text, *it.Low, *it.High)
			}
		}
		if _, _, err := q.Canonical(); err != nil && q.CanonicalUnit() != "" {
			t.Fatalf("%q: %v", text, err)
		}
	}
}

func FuzzFind(f *testing.F) {
	for _, c := range findCases {
		f.Add(c.in)
	}
	f.Add("\xff 5 °C \x80–\xe2 6 d")
	f.Add("1e999999 d 99999999999999999999999999999999999999999999 °C 10^999 h")
	f.Fuzz(func(t *testing.T, text string) { checkSound(t, text) })
}

// TestFindIsLinear reads a line ten times as long in not much more than ten
// times the steps, by comparing allocations, which do not depend on the load
// of the machine.
func TestFindIsLinear(t *testing.T) {
	for _, unit := range []string{"10, ", "10 and ", "a ", "within 4, ", "pH , ", "5 °C to ", "between 3 ", "5 mg O2 ",
		"first and ", "day 3 to ", "20 ± ", "5 of 6 ", "half a ", "at 10, ", "20 °C (5–"} {
		short, long := strings.Repeat(unit, 400), strings.Repeat(unit, 4000)
		checkSound(t, short)
		a := testing.AllocsPerRun(1, func() { Find(short) })
		b := testing.AllocsPerRun(1, func() { Find(long) })
		if b > 15*a+200 {
			t.Errorf("%q: %v allocations for 400, %v for 4000", unit, a, b)
		}
	}
}
