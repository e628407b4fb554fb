// Package source holds what the lines and figures of package safety rest on:
// the published texts and how each was read, the statuses, and to whom a line
// defers. It holds no rule and no number.
package source

import "slices"

// Source is one published text, and how it was read.
type Source struct {
	Key  string `json:"key"`
	Cite string `json:"cite"` // the document itself
	Read string `json:"read"` // in what form it was read, and how far

	// Itself says that the text was read, in a copy or in part, and not only
	// what others say of it.
	Itself bool `json:"itself"`
}

// The keys of what has no published source.
const (
	Practice = "practice"
	Reasoned = "reasoned"
	FirstAid = "first-aid"
)

// cfr is how the US federal rules were read.
const cfr = "2015 edition; check the current one"

// sources lists every text that a rule or a figure names.
var sources = []Source{
	{"osha-252", "29 CFR 1910.252, Welding, cutting and brazing: general requirements", cfr + "; written for metal, read across to glass", true},
	{"osha-253", "29 CFR 1910.253, Oxygen-fuel gas welding and cutting", cfr + "; written for metal, read across to glass", true},
	{"osha-133", "29 CFR 1910.133, Eye and face protection", "a 2024 copy", true},
	{"osha-146", "29 CFR 1910.146, Permit-required confined spaces: definitions", "as quoted in several texts", false},
	{"osha-151", "29 CFR 1910.151, Medical services and first aid", cfr, true},
	{"osha-333", "29 CFR 1910.333, Electrical: selection and use of work practices", cfr, true},
	{"osha-1000", "29 CFR 1910.1000, Air contaminants, Table Z-1", cfr, true},
	{"osha-metals", "29 CFR 1910.1018 (arsenic), .1025 (lead), .1027 (cadmium)", cfr, true},
	{"osha-silica", "US rule on respirable crystalline silica (2016)", "two summaries", false},
	{"mine-75", "30 CFR 75.1106-5, Leak tests of gas cylinders' valves and connections", "read; written for mines", true},
	{"ca-4845", "California Code of Regulations, title 8, section 4845", "read", true},
	{"ansi-z535", "ANSI Z535.4-2007, Product safety signs and labels, 4.14", "quoted by two label texts", false},
	{"ansi-z87", "ANSI/ISEA Z87.1, Eye and face protection", "two summaries of its lens markings", false},
	{"ansi-z358", "ANSI Z358.1, Emergency eyewash and shower equipment", "a hygiene study text", false},
	{"en166", "EN 166, Personal eye protection", "the German rule that reproduces its markings", false},
	{"icnirp2013", "ICNIRP (2013), Limits of exposure to incoherent visible and infrared radiation, Health Physics 105:74-96", "its limits as quoted in a directive, an abstract and a worked value", false},
	{"eu2006-25", "Directive 2006/25/EC, artificial optical radiation, Annex I", "a copy", true},
	{"patty", "Patty's Industrial Hygiene, chapter on optical radiation, p. 41 and 48", "those pages, in a copy", true},
	{"ptb2005", "Physikalisch-Technische Bundesanstalt (2005), annual report, on EN 171: infrared transmittance up to 1400 and 2000 nm", "that passage", true},
	{"heta", "NIOSH HETA 98-0139-2769, on makers of glass beads: eyewear for flare, infrared and flying glass", "as quoted by two pages on eyewear", false},
	{"wa-doh", "Washington State Department of Health, Art hazards: glassworking", "read", true},
	{"king-county", "King County (Washington), hazardous waste program: art hazards", "read", true},
	{"mech-handbook", "Mechanical Engineers' Handbook, vol. 4, Table 16, Radiation function", "that page", true},
	{"acgih-iv", "ACGIH, Industrial Ventilation: a manual of recommended practice", "not read; its formulas as hygiene study texts give them", false},
	{"acgih-noise", "ACGIH threshold limit values: noise, 85 dBA and 3 dB", "two hygiene study texts", false},
	{"nfpa58", "NFPA 58, Liquefied petroleum gas code (early-2000s edition), 5.3.4", "as quoted; the current edition may differ", false},
	{"mn-sfm", "Minnesota State Fire Marshal, table of LP-gas cylinders indoors", "read", true},
	{"ul2034", "UL 2034, Single and multiple station carbon monoxide alarms", "not read; its least level, 70 ppm, at second hand", false},
	{"nfpa51b", "NFPA 51B (2019), Fire prevention during welding", "a hygiene study text", false},
	{"gas-data", "Safety data for propane: flammable range, vapor density", "two independent texts", false},
	{"hydrogen", "Safety data for hydrogen and oxygen: no smell; a hydrogen flame is nearly invisible", "from memory", false},
	{"acetylene", "29 CFR 1910.253(a)(2), 15 psig; safety data for acetylene: copper and high-silver alloys", "from memory", false},
	{"quartz", "Working of fused quartz: glare, ultraviolet, fume of silica", "from memory", false},
	{"csa-b149", "CAN/CGA-B149.2-M95, Propane installation code", "extract", true},
	{"indg459", "HSE INDG459 (2013), Oxygen use in the workplace", "read", true},
	{"eiga02", "EIGA SL 02, Oxygen enrichment", "read", true},
	{"act-flashback", "WorkSafe ACT (November 2010), Flashback arrestors", "read", true},
	{"nec", "NFPA 70, National Electrical Code, articles 100, 210.19(A)(1), 210.20(A): 125 % of a load of three hours", "as reported in an electrical trade journal (2012) and a second text", false},
	{"nec-422", "NFPA 70, National Electrical Code, on the breaker of one appliance: 150 % of its current, or as marked", "not read; at second hand; from memory: 20 A for 13.3 A or less, 422.11(E)", false},
	{"iso13732", "ISO 13732-1, Human responses to contact with hot surfaces", "not read; as quoted in two texts", false},
	{"niosh-fiber", "NIOSH 2006-123, Occupational exposure to refractory ceramic fibers", "as cited by a fiber's safety data sheet and by a union's safety page", false},
	{"asbestos", "US EPA on vermiculite and insulation of former years", "from memory", false},
	{"burns", "Burn first aid of two Australian and New Zealand burn services", "read", true},
	{Practice, "Common practice in glass studios", "no published standard was found", false},
	{Reasoned, "Reasoned here", "the reason stands in the line; no published text was found", false},
	{FirstAid, "General first aid as commonly taught", "no text was read; a first-aid course comes before it", false},
}

// federal are the keys of the rules of the US Code of Federal Regulations.
var federal = []string{"osha-252", "osha-253", "osha-133", "osha-146", "osha-151", "osha-333", "osha-1000", "osha-metals", "mine-75", "acetylene"}

// Federal reports whether the text is of the US Code of Federal Regulations.
func (s Source) Federal() bool { return slices.Contains(federal, s.Key) }

// All returns every text that a rule or a figure names. It is for the test that
// finds each of them used, which reads rules and figures and so stands with them.
func All() []Source { return append([]Source(nil), sources...) }

// Of returns the sources of the keys, in that order; a key that is not listed
// is left out.
func Of(keys ...string) []Source {
	var out []Source
	for _, key := range keys {
		for _, s := range sources {
			if s.Key == key {
				out = append(out, s)
			}
		}
	}
	return out
}
