"""Words of old tables in the languages keepers write: English, German, French, Spanish, Dutch.

The words are common ones of each language; no source. Each is compared without capitals and
accents: a word that ends in ``*`` is the beginning of one, a word in ``*...*`` may stand anywhere
within one, all others are whole words.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from functools import cache, lru_cache

MOST_WORDS = 20_000  # that are remembered as they were read, for a table says the same again
_ELIDED = re.compile(r"\b[dl]'(?=[^\W\d_])")  # d'oeufs, l'adulte
_BETWEEN_LETTER_AND_DIGIT = re.compile(r"(?<=[^\W\d_]) (?=\d)|(?<=\d) (?=[^\W\d_])")
_ODD = str.maketrans(
    {"œ": "oe", "æ": "ae", "ø": "o", "ß": "ss", "’": "'", "♀": " female ", "♂": " male "}
    | dict.fromkeys("†‡✝✞✟☠✗✘", " dead ")
    | dict.fromkeys("✓✔", " yes ")
)
# A number that is glued to a word, as in 2tot, 55Eier, 2x tot; not the second, 3rd, 4eme, nor 7b.
_GLUED = re.compile(r"(?<![^\W_])(\d+)(?!eme|ème)(?=[^\W\d_]{3})", re.IGNORECASE)
_TIMES = re.compile(r"(?<![^\W_])(\d+) ?[x×](?![^\W_])|[×] ?(\d+)|(?<![^\W_])(\d+)x(?=[^\W\d_]{2})")
# One to twelve in English, German, French, Spanish, Dutch, where what they count stands behind:
# neither 'ein paar tot' nor 'zwei Drittel' is one; without the Spanish eleven, once.
NUMBER_WORDS: Mapping[str, int] = {
    word: number
    for number, words in enumerate(
        (
            "one, ein, eine, einer, eines, einen, eins, un, une, una, uno, een",
            "two, zwei, zwo, deux, dos, twee",
            "three, drei, trois, tres, drie",
            "four, vier, quatre, cuatro",
            "five, funf, fuenf, cinq, cinco, vijf",
            "six, sechs, seis, zes",
            "seven, sieben, sept, siete, zeven",
            "eight, acht, huit, ocho",
            "nine, neun, neuf, nueve, negen",
            "ten, zehn, dix, diez, tien",
            "eleven, elf, onze",
            "twelve, zwolf, zwoelf, douze, doce, twaalf",
        ),
        start=1,
    )
    for word in words.split(", ")
}


@lru_cache(MOST_WORDS)
def bare(text: str) -> str:
    """A text without capitals and accents, its words parted by single spaces."""
    folded = unicodedata.normalize("NFKD", _ELIDED.sub("", text.casefold().translate(_ODD)))
    plain = "".join(sign for sign in folded if not unicodedata.combining(sign))
    return " ".join(re.findall(r"[^\W_]+|[#%°?+]", plain))


def code_key(name: str) -> str:
    """A code as it is compared: ``J1``, ``j 1`` and ``J-1`` are one."""
    return _BETWEEN_LETTER_AND_DIGIT.sub("", bare(name))


def with_numbers(text: str) -> str:
    """A text whose numbers stand apart, in figures: ``2 tot`` of ``2tot``, ``2x tot``, ``zwei
    tot``."""
    apart = _TIMES.sub(lambda found: f" {found[1] or found[2] or found[3]} ", text)
    words = _GLUED.sub(r"\1 ", apart).split()
    return " ".join(
        str(NUMBER_WORDS[bare(word)])
        if bare(word) in NUMBER_WORDS and (not then or has(COUNTABLE, bare(then)))
        else word
        for word, then in zip(words, [*words, ""][1:], strict=True)
    )


@cache
def _pattern(words: str) -> re.Pattern[str]:
    parts = []
    for word in words.split(", "):
        core = re.escape(bare(word.strip("*"))).replace(r"\ ", " ")
        if not core:
            continue
        left = "" if word.startswith("*") else r"(?<![^\W_])"
        right = "" if word.endswith("*") else r"(?![^\W_])"
        parts.append(f"{left}{core}{right}")
    return re.compile("|".join(parts))


@lru_cache(MOST_WORDS)
def has(words: str, text: str) -> bool:
    """Whether a bare text holds one of the words."""
    return _pattern(words).search(text) is not None


def says_nothing_but(words: str, text: str) -> bool:
    """Whether a bare text is one of the words after another, and nothing else."""
    return not re.sub(rf"(?:{_pattern(words).pattern})\w*", "", text).strip()


def first_of(table: Mapping[str, str], text: str) -> str:
    """The first meaning of which the bare text holds a word; empty where of none."""
    return next((meaning for meaning, words in table.items() if has(words, text)), "")


def all_of(table: Mapping[str, str], text: str) -> list[tuple[int, int, str]]:
    """Each meaning with where its word stands in the bare text: first sign, last sign, meaning."""
    found = [
        (match.start(), match.end(), meaning)
        for meaning, words in table.items()
        for match in _pattern(words).finditer(text)
    ]
    kept: list[tuple[int, int, str]] = []
    for start, end, meaning in sorted(found, key=lambda one: (one[0], -one[1])):
        if not kept or start >= kept[-1][1]:
            kept.append((start, end, meaning))
    return kept


# The stages, as nouns; and what begins them.
STAGE_WORDS: Mapping[str, str] = {
    "pupa": (
        "pupa*, chrysal*, crisal*, cocoon*, puppe*, *verpupp*, pop, poppen, popperiode, *verpop*,"
        " nymph*, ninfa*"
    ),
    "larva": (
        "larv*, caterpill*, raupe*, raupchen*, chenill*, oruga*, rups, rupsen, rupsje*, rupsperiode"
    ),
    "adult": (
        "adult*, imago*, imagin*, butterfl*, moth, moths, falter*, schmetterling*, papillon*,"
        " mariposa*, vlinder*, volwassen*"
    ),
    "egg": (
        "egg, eggs, ova, ovum, ei, eier, eizahl, eidauer, eistadium, eitage, eizeit, eiphase,"
        " eiperiode, eientwicklung, oeuf*, huevo*, eitje*, eieren, eiduur, eifase, incubation*,"
        " incubacion, inkubation*, embryonal*"
    ),
}
BEGINNINGS: Mapping[str, str] = {
    "egg": (
        "laid, lay, laying, oviposit*, *eiablage*, abgelegt, ablage, gelegt, legedatum, ponte,"
        " pondu*, pone, ponen, puesta, puesto*, oviposicion, eileg*, legdatum, legdag, gelegd,"
        " afgezet, eiafzet*"
    ),
    "pupa": (
        "pupat*, verp, *verpupp*, *verpop*, nymphos*, pupacion*, crisalidac*, crisalidan,"
        " crisalidaron, pupaison"
    ),
    "adult": (
        "emerg*, *falterschlupf*, *imaginalschlupf*, emergenc*, emergi*, uitvlieg*, uitgevlogen"
    ),
    "larva": "hatch*, *eischlupf*, *raupenschlupf*, eclosion des oeufs, eclosion larv*",
}
# What comes out of something; of eggs or of pupae is told by what is there. Who writes that they
# hatched means of eggs, where nothing tells.
HATCHES = "hatch*"
COMES_OUT = (
    "came out, come out, comes out, hatch*, *schlupf*, geschlupft*, geschl, eclos*, sort*, naiss*,"
    " nace*, nacim*, salio, salier*, uitkom*, uitgekomen"
)
# Of eggs, where no other stage is named and none was there.
NOT_HATCHED = (
    "unhatched, not hatch*, didn't hatch*, did not hatch*, didnt hatch*, never hatch*, no hatch,"
    " failed to hatch, fails to hatch, fail to hatch, ungeschlupft*, nicht geschlupft*, nicht"
    " schlupf*, nie geschlupft*, niemals geschlupft*, schlupfte nicht, schlupften nicht, kein"
    " schlupf, non eclos*, pas eclos*, jamais eclos*, no eclosion*, nunca eclos*, niet uitgekomen,"
    " nooit uitgekomen, niet uit"
)
IN_ALL = (
    "total*, in all, whole, entire, gesamt*, insgesamt, en tout, ensemble, totaal*, egg to adult,"
    " sum, summe"
)
TIMES = (
    "day, days, d, dgr, dygn, dni, duration*, dur, time, period, periods, *periode, *perioden,"
    " periodo*, incubation, incubacion, inkubation, *ruhe, tag, tagen, *tage, *dauer*, *zeit, jour,"
    " jours, j, duree*, dia, dias, duracion*, dag, dgn, *duur*, *dagen"
)
DAYS = f"length, {TIMES}"
UNITS_OF_SIZE = "mm, cm, mg"  # that are of nothing but a length or a mass
SIZES = (
    "g, gr, gram*, size, sizes, weight*, mass, length*, width*, height*, breadth*, diameter*,"
    " wingspan*, *gewicht, *gewichte, *grosse, *lange, *breite, *durchmesser, *spannweite, poids,"
    " longueur*, largeur*, taille*, diametre*, envergure*, peso*, longitud*, ancho, anchura*,"
    " tamano*, diametro*, *lengte, *breedte, *grootte"
)
WEEKS = "week, weeks, wk, wks, woche*, semaine*, semana*, weken"
HOW_MANY = (
    "n, no of, number*, count*, how many, qty, anz, anzahl*, *zahl, stuck, wieviel*, nombre*, nb,"
    " nbre, combien, effectif*, numero*, cantidad*, cuantos, cuantas, aantal*, hoeveel*"
)
DEAD = (
    "dead, died, dies, dying, perish*, death*, mort*, tot, tote, toten, gestorben*, *verlust*,"
    " gest, eingegangen, verendet, decede*, muert*, murio*, murier*, dood, dode, gestorven, sterf*,"
    " *sterbe*, loss*, perte*, perdidas, verlies*, failed, infertil*, unfertil*, unhatched, taub,"
    " taube, tauben, unbefruchtet*, oeufs clairs, creve*, kaputt, abgestorben*, drown*, shrivel*,"
    " squashed, dried up, dried out, desiccat*, steril*, not viable, ertrunken*, *vertrocknet*,"
    " verhungert*, zerquetscht*, unfruchtbar*, stirbt, starb, starben, sterben, meurt, meurent,"
    " desseche*, noye, noyes, noyee*, ecrase*, non viable*, muere*, mueren, ahogad*, aplastad*,"
    " esteril*, no viable*, inviable*, verdronken, uitgedroogd, verdroogd*, onbevrucht*,"
    " platgedrukt, doodgegaan, verhongerd"
)
# What mostly means so, but not always; it is asked, and taken for it where nobody says otherwise.
LOOKS_DEAD = (
    "die, dud, duds, black, dry, mould*, mold*, fung*, rotten, rotting, kill*, eaten, crush*,"
    " discard*, threw, thrown, froze*, starv*, collaps*, infect*, schwarz*, *verpilz*, *schimm*,"
    " *faul*, weggeworfen, entsorgt*, *gefressen, noir*, moisi*, momifi*, jete*, sec, secs, seche*,"
    " pourri*, mange*, negr*, seco, secos, seca, secas, hongo*, tiro, tirad*, podrid*, comid*,"
    " baja, bajas, zwart*, weggegooid*, opgegeten, *rot"
)
LOOKS_GONE = "fewer, less, weniger, fehl*, moins, manqu*, menos, faltan, minder"
GIVEN = (
    "given away, gave away, give away, giving away, verschenk*, abgegeben*, weggegeben*,"
    " weggegeven, regalad*"
)
LOOKS_GIVEN = (
    "gave, given to, sold, donat*, swap*, verkauf*, getauscht*, donne, donnes, donnee*, vendu*,"
    " regalo, regalar*, dadas, dados, vendid*, verkocht*, geruild*"
)
LOOKS_COUNTED = "left, still, remain*, noch, ubrig*, reste, restent, queda, quedan, hay, nog, over"
ESCAPED = (
    "escap*, entkommen, entflogen, entwischt, echapp*, evad*, ontsnapt*, got away, got out, flew"
    " off"
)
RELEASED = (
    "releas*, let go, set free, freigel*, freilass*, ausgesetzt, relach*, libere*, libera*, solt*,"
    " suelt*, vrijgelat*, losgelat*, uitgezet"
)
KEPT = (
    "specimen*, preserved, voucher*, pinned, prapariert, beleg*, conserv*, ejemplar*, geprepareerd"
)
WINTERS = "overwinter*, diapaus*, wintering, uberwinter*, uberlieg*, hivern*, hibern*, inverna*"
ALIVE = (
    f"{WINTERS}, alive, live, living, survive*, ok, lebt, lebend*, lebendig, uberlebt, vivant*,"
    " vit, survec*,"
    " vivo*, viva*, vive, sobreviv*, levend*, leeft, overleef*"
)
STILL = "still, noch, encore, toujours, todavia, aun, sigue*, nog, ancora"  # so at the end
GONE = (
    "missing, gone, vanished, lost, not found, weg, fehlt, verschwunden, vermisst, verloren,"
    " disparu*, manquant*, perdu, perdue, perdus, perdues, desaparec*, falta*, perdid*, vermist,"
    " verdwenen, zoek, kwijt"
)
LEFT_WORDS = ", ".join((ESCAPED, RELEASED, KEPT, GONE, GIVEN, LOOKS_GIVEN, LOOKS_GONE))
UNKNOWN = "unknown, not known, unbekannt, unklar, inconnu*, desconocid*, onbekend"
NOT = "not, nicht, pas, no, niet"
ENDINGS = ", ".join((DEAD, ALIVE, ESCAPED, RELEASED, KEPT, GIVEN, GONE))
# Shares of animals, which their numbers tell.
SHARE = (
    "*rate, %, percent*, share, *quote, prozent*, *anteil, taux, pourcent*, tasa*, porcent*,"
    " procent*, *percentage"
)
RATIO = "ratio*, *verhaltnis*, rapport*, proportion*, proporcion*, razon, relacion, *verhouding*"
COUNTED = (
    "count*, census, tally, gezahlt, zahlung, bestand, compt*, recuento, contad*, conteo, geteld,"
    " telling"
)
MOVED = (
    "moved, transfer*, rehoused, umgesetzt, umgezogen, versetzt, uberfuhrt, deplace*, transfere*,"
    " traslad*, movid*, pasad*, verplaatst, overgezet, relocat*, umquartier*, demenag*, verhuis*"
)
TOWARDS = "to, into, nach, vers, naar, a, al"  # that by themselves say that some went there
OUT_OF = "from, out of, von, vom, aus, de, du, depuis, desde, del, van, uit"  # before where from
INTO = "to, into, in, nach, vers, dans, en, a, naar"  # before where they were moved to
FED = (
    "fed, food, feed*, fresh plant, new plant, fresh leaves, new leaves, frische blatter, feuilles"
    " fraiches, hojas frescas, verse bladeren, host, futter*, gefuttert, nourri*, nourriture,"
    " alimenta*, comida, voer*, gevoerd, gevoederd, voedsel"
)
CLEANED = "clean*, gereinigt, gesaubert, geputzt, nettoy*, limpi*, schoongemaakt, gereinigd"
MOULTED = "moult*, molt*, gehautet, hautung*, mue, mues, mud*, verveld, vervelling*"
NOTED = (
    "check, checked, inspect*, mist, misted, misting, spray*, water, watered, kontroll*, bespruht,"
    " gespruht, gegossen, verifi*, controle*, pulveris*, arros*, revis*, riego, riegos, regado,"
    " rociad*, gecontroleerd, besproeid, bevochtigd, note*, remark*, seen, observ*, notiz, bemerk*,"
    " gesehen, nota*, remarq*, vu, visto, opmerk*, gezien"
)
MEASURED = "temp, warmth, temperatur*, temperatuur*, gemessen"
# Words of what happens to animals, those of what begins a stage aside.
HAPPENS = ", ".join((COMES_OUT, DEAD, ESCAPED, RELEASED, MOVED, MOULTED, COUNTED, FED, CLEANED))
YES = ("yes", "y", "ja", "j", "oui", "o", "si", "s", "1", "x", "true", "wahr", "vrai", "+")
NO = ("no", "n", "nein", "non", "nee", "0", "false", "falsch", "faux", "-")
NOTHING = frozenset({"?", "? ?", "na", "n a", "nan", "none", "keine", "unbekannt", "nd"})
# Beside the name of a stage, what says no more of the animals than that they are some.
JUST_SOME = (
    "the, a, an, some, of, in, on, at, from, new, young, small, tiny, first, found, collected,"
    " der, das, den, einige, von, im, am, auf, aus, neu, neue*, jung*, klein*, erste*, winzig*,"
    " gefunden*, le, la, les, des, du, de, sur, dans, jeune*, petit*, premier*, nouve*, trouve*,"
    " el, los, las, del, en, nuev*, joven*, pequen*, primer*, encontrad*, het, op, van, uit, bij,"
    " nieuw*, jonge*, eerste*, gevonden"
)
# All that there are, where somebody writes so.
ALL = (
    "all, every, alle, alles, allen, samtliche, tous, tout, toutes, todos, todas, todo, allemaal,"
    " rest, remaining, restliche*, reste, restant*, resto, overige"
)
SUM = (
    "total*, *total, totaux, in all, sum, sums, summen, *summe, gesamt*, insgesamt, en tout,"
    " somme, sommes, *totaal, totaal*, som, suma, sumas, zusammen"
)
MEAN = (
    "mean, means, average*, avg, moy, moyenne*, media, medias, promedio*, mittel, mittelwert*,"
    " durchschnitt*, gemiddeld*, srednia, medel, medelvarde*, gjennomsnitt*, keskiarvo"
)
# What else is reckoned of other lines, and short for it, where a name would stand; and what may
# stand beside such a word.
RECKONED = (
    "ges, insg, gem, gemidd, mw, durchschn, schnitt, prom, median*, mediaan, n, sd, se, sem, sdev,"
    " stdev, stabw, std dev, std, s d, s e, st abw, standard deviation, standard error,"
    " standardabweichung, standardfehler, ecart type, erreur type, desv est, desv, desviacion*,"
    " standaardafwijking, standaardfout, varian*, min, minim*, max, maxim*, range, spannweite,"
    " anzahl, aantal, nombre"
)
BESIDE_SUM = (
    "grand, general*, estandar, type, est, und, and, et, en, y, number, anzahl, aantal, nombre"
)
# Beside a number of animals, what says no more than that it is one.
PIECES = (
    "pc, pcs, piece*, ex, exx, exemplar*, exemplaire*, stk, stck, stuck, st, x, mal, times, ind,"
    " indiv*, animal*, tier*, specimen*, dier*, stuks, szt, ks, kus*, no"
)
ABOUT = (
    "ca, circa, about, approx*, around, etwa, ungefahr, environ, env, aprox*, unos, ongeveer, rond"
)
FEMALE = "f, female*, weib*, w, femelle*, hembra*, vrouw*, wijf*"
MALE = "m, male, males, mann*, macho*, man"
# One animal; German has many words that are one and several alike, which are not among them.
ONE_ANIMAL = (
    "female, male, adult, imago, butterfly, moth, larva, caterpillar, pupa, chrysalis, cocoon,"
    " egg, femelle, papillon, larve, chenille, chrysalide, oeuf, hembra, macho, mariposa, oruga,"
    " crisalida, huevo, raupe, puppe, schmetterling, ei, rups, pop, vlinder, wijfje, vrouwtje,"
    " mannetje, eitje"
)
SAME_CELL = frozenset(
    {
        "same",
        "ditto",
        "dito",
        "dto",
        "do",
        "idem",
        "id",
        '"',
        "''",
        "〃",
        "„",
        "“",
        "”",
        '-"-',
        "-''-",
    }
)

# What a number in words may stand before.
COUNTABLE = ", ".join(
    (
        *STAGE_WORDS.values(),
        *BEGINNINGS.values(),
        COMES_OUT,
        ENDINGS,
        MOVED,
        MOULTED,
        COUNTED,
        FEMALE,
        MALE,
    )
)

# Headings whose meaning is one field, whatever is below them; the first that fits holds.
HEADINGS: Mapping[str, str] = {
    "latitude": (
        "latitude*, lat, decimallatitude, breitengrad*, geogr breite, geographische breite,"
        " latitud, breedtegraad*"
    ),
    "longitude": (
        "longitude*, lon, lng, decimallongitude, langengrad*, geogr lange, geographische lange,"
        " longitud, lengtegraad*"
    ),
    "note": (
        "note*, remark*, rem, rmq, rq, rqs, obs, bem, anm, komm, comment*, bemerk*, anmerk*,"
        " notiz*, kommentar*, remarq*, observ*, opm, beobacht*, waarnem*, nota*, comentario*,"
        " opmerk*, notitie*"
    ),
    "temperature": "t, ta, temp*, celsius, warmth, ° c, °c, oc, deg c, grad",
    "humidity": "humid*, rh, rf, *feucht*, humedad*, vochtig*, luchtvochtig*, hr",
    "species": (
        "species, sp, taxon, art, arten, espece*, especie*, soort*, scientific name, name, nom"
    ),
    "mother": "mother*, dam, mutter*, mere, madre*, moeder*, parent female, weibchen nr",
    "to": "to, into, moved to, nach, wohin, vers, hacia, destino, naar, ziel*",
    "container": (
        "container*, cup*, jar*, box*, tub*, cage*, vessel*, *gefass*, *becher*, *dose, *dosen,"
        " glas, kafig*, behalter*, kasten, boite*, bocal*, pot, gobelet*, recipiente*, frasco*,"
        " caja*, jaula*, bote, bak, bakje*, potje*, doos, doosje*, kooi*"
    ),
    "host plant": (
        "host*, plant*, food*, *futter*, *pflanze*, nourri*, *hote*, alimento*, hospedera*,"
        " voedsel*, voer, waardplant*"
    ),
    "place": (
        "place*, site*, local*, location*, origin*, shelf*, ort, *fundort*, herkunft, standort*,"
        " regal*, lieu*, endroit*, provenance*, lugar*, sitio*, estante*, plaats*, vindplaats*,"
        " herkomst*, rek, plank"
    ),
    "sex": (
        "sex*, gender, geschlecht*, geslacht*, sekse*, m f, f m, m w, w m, m v, v m, m h, h m,"
        " female male, male female"
    ),
    "cause": (
        "died how, how died, died of, cause*, ursache*, todesursache*, grund, causa*, oorzaak*,"
        " reason*"
    ),
    "what happened": (
        "what, event*, action*, happening*, was, ereignis*, vorgang, tatigkeit*, was geschah,"
        " evenement*, quoi, que, suceso*, accion*, wat, gebeurtenis*, actie*, handeling*"
    ),
    "brood": (
        "brood*, batch*, clutch*, family*, *brut*, zucht*, *gelege*, ponte nr, ponte n°, couvee*,"
        " famille*, nidada*, familia*, familie*, camada*, kweek*, broedsel*, legsel*, elevage*,"
        " cria, crias, lot, lots, lote, lotes, charge, chargen, serie*"
    ),
    "animal": "animal*, specimen*, id, ind, tier*, indiv*, raupennr*, ejemplar*, dier*",
    "line number": (
        "nr, no, #, n°, line, row, lfd*, zeile, pos, num, rang, ligne, fila, volgnr*, regel, ref,"
        " refs, reference, referenz, referencia, referentie"
    ),
}
# A laying, which may be numbered; and plurals that stand for one before what it is in.
LAYINGS = "ponte, puesta, eiablage, ablage, gelege, legsel, laying"
IN_COMPOUNDS = "eier, raupen, puppen, eieren, rupsen, poppen, vlinder"
# With the word for a container, or alone: the one that they went to.
NEW = (
    "new, next, target, second, neu, neue, neuer, neues, neuen, ziel*, zum, nouveau, nouvelle,"
    " nuevo, nueva, al, a, nieuw, nieuwe"
)
DATE_HEADING = (
    "date*, day, when, datum*, tag, wann, jour*, quand, fecha*, dia, cuando, dag, wanneer, since,"
    " seit, depuis, desde, sinds"
)
HOUR_HEADING = "uhr, uhrzeit, hour*, clock, heure*, hora, horas, uur, tijdstip"
TIME_HEADING = f"{HOUR_HEADING}, time, time of day, zeit, tageszeit, tijd"
CAUGHT_HEADING = (
    "caught*, capture*, collected*, gefangen*, *fangort, fangdatum, fangtag, captura*, gevangen*,"
    " vangst*"
)
FEMALE_HEADING = "female, weibchen, femelle, hembra, wijfje, vrouwtje"  # who laid, by her code
FATE_HEADING = (
    "fate*, outcome*, result*, status*, alive, schicksal*, ergebnis*, verbleib*, sort, devenir,"
    " issue, statut, destino, estado*, lot, afloop*, uitkomst*, ende, happened to, became of, end,"
    " was wurde, geworden aus, devenu, devenue, devenus, advenu, que fue de, wat werd"
)
STAGES_HEADING = "stages, stadien, durations, dauern, stades, durees, estadios, duraciones, stadia"
STAGE_HEADING = "stage*, instar*, stadium*, stade*, estadio*, fase, phase"
ENDED_HEADING = "end*, until, bis, fin*, jusqu*, hasta, tot en met, eind*"
