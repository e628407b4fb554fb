// Package source holds what the lines and figures of package safety rest on:
// the published texts and how each was read, the statuses, and to whom a line
// defers. It holds no rule and no number.
package source

// Source is one published text, and how it was read.
type Source struct {
	Key  string `json:"key"`
	Cite string `json:"cite"` // the document itself
	Read string `json:"read"` // in what form it was read, and how far
}

// Practice is the key of what has no published source.
const Practice = "practice"

// cfr is how the US federal rules were read.
const cfr = "2015 edition; check the current one"

// sources lists every text that a rule or a figure names.
var sources = []Source{
	{"osha-252", "29 CFR 1910.252, Welding, cutting and brazing: general requirements", cfr + "; written for metal, read across to glass"},
	{"osha-253", "29 CFR 1910.253, Oxygen-fuel gas welding and cutting", cfr + "; written for metal, read across to glass"},
	{"osha-133", "29 CFR 1910.133, Eye and face protection", "a 2024 copy"},
	{"osha-146", "29 CFR 1910.146, Permit-required confined spaces: definitions", "as quoted in several texts"},
	{"osha-151", "29 CFR 1910.151, Medical services and first aid", cfr},
	{"osha-333", "29 CFR 1910.333, Electrical: selection and use of work practices", cfr},
	{"osha-1000", "29 CFR 1910.1000, Air contaminants, Table Z-1", cfr},
	{"osha-metals", "29 CFR 1910.1018 (arsenic), .1025 (lead), .1027 (cadmium)", cfr},
	{"osha-silica", "US rule on respirable crystalline silica (2016)", "two summaries"},
	{"osha-silver", "OSHA chemical sampling information: silver", "read"},
	{"osha-noise", "29 CFR 1910.95, Occupational noise exposure", "two hygiene study texts"},
	{"mine-75", "30 CFR 75.1106-5, Leak tests of gas cylinders' valves and connections", "read; written for mines"},
	{"ca-4845", "California Code of Regulations, title 8, section 4845", "read"},
	{"ansi-z535", "ANSI Z535.4-2007, Product safety signs and labels, 4.14", "quoted by two label texts"},
	{"ansi-z87", "ANSI/ISEA Z87.1, Eye and face protection", "two summaries of its lens markings"},
	{"ansi-z358", "ANSI Z358.1, Emergency eyewash and shower equipment", "a hygiene study text"},
	{"en166", "EN 166, Personal eye protection", "the German rule that reproduces its markings"},
	{"icnirp2013", "ICNIRP (2013), Limits of exposure to incoherent visible and infrared radiation, Health Physics 105:74-96", "its limits as quoted in a directive, an abstract and a worked value"},
	{"eu2006-25", "Directive 2006/25/EC, artificial optical radiation, Annex I", "a copy"},
	{"patty", "Patty's Industrial Hygiene, chapter on optical radiation, p. 41 and 48", "those pages, in a copy"},
	{"oriowo1997", "Oriowo, Chou and Cullen (1997), Ophthalmic and Physiological Optics 17:216", "abstract"},
	{"wa-doh", "Washington State Department of Health, Art hazards: glassworking", "read"},
	{"mech-handbook", "Mechanical Engineers' Handbook, vol. 4, Table 16, Radiation function", "that page"},
	{"acgih-iv", "ACGIH, Industrial Ventilation: a manual of recommended practice", "not read; its formulas as hygiene study texts give them"},
	{"acgih-noise", "ACGIH threshold limit values: noise, 85 dBA and 3 dB", "two hygiene study texts"},
	{"nfpa58", "NFPA 58, Liquefied petroleum gas code (early-2000s edition), 5.3.4", "as quoted; the current edition may differ"},
	{"mn-sfm", "Minnesota State Fire Marshal, table of LP-gas cylinders indoors", "read"},
	{"nfpa51b", "NFPA 51B (2019), Fire prevention during welding", "a hygiene study text"},
	{"gas-data", "Safety data for propane: flammable range, vapor density", "two independent texts"},
	{"csa-b149", "CAN/CGA-B149.2-M95, Propane installation code", "extract"},
	{"indg459", "HSE INDG459 (2013), Oxygen use in the workplace", "read"},
	{"eiga02", "EIGA SL 02, Oxygen enrichment", "read"},
	{"act-flashback", "WorkSafe ACT (November 2010), Flashback arrestors", "read"},
	{"nec", "NFPA 70, National Electrical Code, articles 100, 210.19(A)(1), 210.20(A)", "as reported in an electrical trade journal (2012) and a second text"},
	{"iso13732", "ISO 13732-1, Human responses to contact with hot surfaces", "not read; as quoted in two texts"},
	{"iec62368", "IEC 62368-1, touch temperature limits TS1", "a brief that reproduces the table"},
	{"niosh-fiber", "NIOSH 2006-123, Refractory ceramic fibers; a maker's safety data sheet", "as cited; the sheet was read"},
	{"niosh-idlh", "NIOSH, Immediately dangerous to life or health concentrations (1994)", "read"},
	{"burns", "Burn first aid of two Australian and New Zealand burn services", "read"},
	{Practice, "Common practice in glass studios", "no published standard was found"},
}

// All returns every text that a rule or a figure names.
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
