package name

import "strings"

// form says how much a word looks like a Latin epithet or genus.
type form int

const (
	foreign   form = iota // cannot be one
	plausible             // could be one, and could be an ordinary word
	telling               // hardly anything else
)

// Endings of epithets. The telling ones are adjectives and genitives that
// hardly any word of the six languages shares.
var (
	tellingEpithets = endingsOf(`ensis oides iformis atus osus inus icus ivus ianus anus urus yurus ulus ellus illus
		idus undus utus usculus ifer iferus iger igerus philus cephalus branchus podus thermus icornis irostris ipennis
		atum osum inum icum ivum ianum anum urum ulum ellum illum idum undum utum usculum iferum igerum philum cephalum branchum podum
		stris custer luster mpester lvester ilis alis aris oris uris eris ii soni ersi eri eyi orum arum idi yi`)
	feminineEpithets  = endingsOf(`ata osa ica ana ina ella ula ifera igera icola oidea`) // telling outside the Romance languages
	plausibleEpithets = endingsOf(`a us um is i ae ense estre gare ens ans ax ex ix yx ox ops ceps as on or es os io er`)
	personal          = endingsOf(`oi ei ui ki wi xi ngi itus ptus ctus`) // endings, most of persons' genitives, that no Romance word behind a genus shares
	ordinaryEndings   = endingsOf(`ous ious tion sion ness ment ings ing ions ors ers tes nes des les res ves ses ches
		shes ies ees oes ates ites ides ines ones ures ages ices ues sis xis ois ais ours eurs eux aux ei eis ität heit keit ung
		ismus zio ario orio ismo ando endo iamo iere iera ieri aggio anza enza enzi anzi ncia cio gia encia ancia ante
		mente dade gem able ible ique oque ette elle esse ence ance aire oire ure age ee ose ase ine ate ite ile ive ole ule
		ame ome ime ife ide ade ode ude one ane ene ice ace uce ece ble ple tle dle gle fle cle kle ave ove ike ake oke ose
		ter der ver ner ger ker ber per ser ler her mer fer wer yer cer ier eer oer tre bre`)
	genusEndings   = endingsOf(`a us um is as es os on ops x ys o e er ias yi i ps`)
	ordinaryGenera = endingsOf(`tion sion ous ness ie ine ter isch`)
	tellingGenera  = endingsOf(`cephalus cephala branchus branchia branchinecta branchinella branchinectella branchipus limnadia lynceus
		estheria artemia triops lepidurus cypris daphnia moina ophanes inecta imnadia bosmina diaptomus calanus cyclops
		acartia branchius fundulus lebias ella iella opsis oides odes urus estheriella nectes phyllum phyllus caris ichthys
		streptus cyzicus linderia nauplius ceros ocercus odon ostoma osoma thrix cheres phallus ptera ura spora cyclus`)
)

// epithetForm judges a word by its letters: the code allows the plain Latin
// alphabet only.
func epithetForm(w string) form {
	if len(w) < 3 || len(w) > 32 || !isPlain(w) {
		return foreign
	}
	if endsIn(w, tellingEpithets, 2) {
		return telling
	}
	if patronym(w) {
		return plausible
	}
	if endsIn(w, ordinaryEndings, 0) || !endsIn(w, plausibleEpithets, 2) {
		return foreign
	}
	return plausible
}

// patronym reports whether a word ends like an epithet made from a person's
// name with the ending -ei ("grubei"), which German words share.
func patronym(w string) bool {
	return len(w) > 5 && isPlain(w) && strings.HasSuffix(w, "ei") && !strings.HasSuffix(w, "lei")
}

// genusForm judges a capitalised word.
func genusForm(w string) form {
	lower := strings.ToLower(w)
	if len(w) < 3 || len(w) > 32 || !isPlain(lower) {
		return foreign
	}
	if endsIn(lower, tellingGenera, 2) {
		return telling
	}
	if endsIn(lower, ordinaryGenera, 0) || !endsIn(lower, genusEndings, 1) {
		return foreign
	}
	return plausible
}

// MayBeGenus reports whether a capitalised word can be a genus in any paper: one of
// the catalogue, or one that ends as genera do.
func MayBeGenus(word string) bool {
	_, listed := known().genera[word]
	return listed || genusForm(word) != foreign
}

// endings is a set of word endings; longest is the length of the longest.
type endings struct {
	set     map[string]bool
	longest int
}

func endingsOf(list string) endings {
	e := endings{set: map[string]bool{}}
	for _, w := range strings.Fields(list) {
		e.set[w] = true
		e.longest = max(e.longest, len(w))
	}
	return e
}

// endsIn reports whether w has one of the endings with at least stem letters
// before it.
func endsIn(w string, e endings, stem int) bool {
	for n := min(e.longest, len(w)-stem); n > 0; n-- {
		if e.set[w[len(w)-n:]] {
			return true
		}
	}
	return false
}

func isPlain(w string) bool {
	for i := range len(w) {
		if c := w[i]; (c < 'a' || c > 'z') && c != '-' {
			return false
		}
	}
	return true
}
