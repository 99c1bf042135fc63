"""The words of the shorthand in Spanish: each pair says the same thing in both languages.

The grammar is that of the English lines; only words differ, and who does something stands after
what is done ("el corte de 5"). Places are called as everywhere else in Spanish
(``court.spot_names`` and its catalogue; a test holds the two together). The terms are those of
coaches' talk in Spain: common practice, no source.
"""

from __future__ import annotations

from typing import Final

Pairs = tuple[tuple[str, str], ...]

HEADINGS: Final[Pairs] = (
    *(("play", "jugada"), ("key", "clave"), ("series", "serie"), ("call", "llamada")),
    *(("situation", "situación"), ("formation", "formación"), ("court", "pista")),
    *(("level", "nivel"), ("throw-in", "saque"), ("ball", "balón"), ("use", "uso")),
    *(("conditions", "condiciones"), ("origin", "origen"), ("starts", "colocación")),
    *(("spacing", "distancias"), ("looks", "opciones"), ("variants", "variantes")),
    *(("needs", "exigencias"), ("defenders", "defensa"), ("teach", "enseñanza")),
    *(("errors", "errores"), ("cautions", "precauciones"), ("phase", "fase")),
    *(("rotation", "rotación"), ("counter", "respuesta")),
)
FREE: Final = frozenset({"play", "key", "series", "call", "use", "origin", "phase", "rotation"})
"""Headings after which somebody's own text stands."""

VERBS: Final[Pairs] = (
    *(("cuts straight", "corta recto"), ("cuts", "corta"), ("curls", "corta en rizo")),
    *(("fades", "se abre en fade"), ("pops", "sale hacia fuera"), ("rolls", "continúa")),
    *(("slips", "se escapa"), ("seals", "sella"), ("posts up", "postea")),
    *(("clears out", "despeja"), ("sets a screen", "pone un bloqueo"), ("screens", "bloquea")),
    *(("down screens", "bloquea en vertical"), ("back screens", "bloquea a ciegas")),
    *(("cross screens", "bloquea en horizontal"), ("flare screens", "bloquea en flare")),
    *(("ball screens", "bloquea en directo"), ("throws", "lanza"), ("passes", "pasa")),
    *(("bounce passes", "pasa picado"), ("lobs", "pasa bombeado")),
    *(("overhead passes", "pasa por encima de la cabeza"), ("hands off", "entrega")),
    *(("dribbles", "bota"), ("shoots", "tira"), ("holds", "aguanta")),
)
NOUNS: Final[Pairs] = (
    *(("cut", "corte"), ("screen", "bloqueo"), ("pass", "pase"), ("dribble", "bote")),
    *(("hand-off", "mano a mano"), ("shot", "tiro"), ("hold", "aguante"), ("action", "movimiento")),
)
ORDINALS: Final[Pairs] = (
    *(("first", "primer"), ("second", "segundo"), ("third", "tercer"), ("fourth", "cuarto")),
    *(("fifth", "quinto"), ("sixth", "sexto"), ("seventh", "séptimo"), ("eighth", "octavo")),
    *(("ninth", "noveno"), ("tenth", "décimo")),
)
LISTED: Final[Pairs] = (
    # What stands after a heading or a comma: one of a few.
    *(("sideline", "banda"), ("baseline", "fondo"), ("press break", "contra la presión")),
    *(("half court", "medio campo"), ("after timeout", "tras tiempo muerto")),
    *(("last shot", "último tiro"), ("line across", "línea a lo ancho")),
    *(("line along", "línea a lo largo"), ("stack", "fila"), ("box", "caja")),
    *(("diamond", "diamante"), ("four across", "cuatro a lo ancho"), ("spread", "abierta")),
    *(("other", "otra"), ("adult", "senior"), ("passing", "pases"), ("strength", "fuerza")),
    *(("speed", "velocidad"), ("finishing", "finalización"), ("shooting", "lanzamiento")),
    *(("screening", "bloqueos"), ("reading", "lectura"), ("reach", "envergadura")),
    *(("between", "entre"), ("deny", "negar"), ("front", "por delante")),
    *(("behind", "por detrás"), ("switch", "cambio"), ("trap", "dos contra uno")),
    *(("sag", "flotar"), ("chase", "perseguir"), ("over", "por arriba")),
    *(("under", "por abajo"), ("direct", "directo"), ("bounce", "picado")),
    *(("lob", "bombeado"), ("overhead", "por encima")),
)
PHRASES: Final[Pairs] = (
    *(("at", "en"), ("at the", "en"), ("to", "a"), ("to the", "a"), ("on to", "y luego a")),
    *(("for", "para"), ("and", "y"), ("or", "o"), ("on", "con"), ("near", "cerca de")),
    *(("when", "cuando"), ("is set", "está firme"), ("ends", "termina")),
    *(("is caught", "se recibe"), ("starts", "empieza"), ("has left", "ha salido")),
    *(("have left", "han salido"), ("goes", "arranca"), ("passes point", "pasa el punto")),
    *(("the signal", "la señal"), ("the ball is in", "el balón está en juego")),
    *(("s after", "s después de"), ("easy", "suave"), ("decoy", "señuelo")),
    *(("in gate", "en puerta"), ("closing gate", "cierra puerta"), ("in double", "en doble")),
    *(("closing double", "cierra doble"), ("in stagger", "en escalera")),
    *(("closing stagger", "cierra escalera"), ("guess", "estimación"), ("against", "contra")),
    *(("after look", "tras la opción"), ("after looks", "tras las opciones")),
    *(("if", "si"), ("from phase", "desde la fase"), ("without", "sin")),
    *(("instead of", "en vez de"), ("nobody", "nadie"), ("needs", "necesita")),
    *(("weight", "peso"), ("sign", "seña"), ("call", "llamada"), ("swap", "se cambian")),
    *(("from their own starts", "desde su propia salida"), ("none", "ninguna")),
    *(("from the other side", "desde el otro lado"), ("at least", "mínimo")),
    *(("at most", "máximo"), ("s left", "s por jugar"), ("margin", "margen")),
    *(("left sideline", "banda izquierda"), ("right sideline", "banda derecha")),
    *(("left baseline", "fondo izquierdo"), ("right baseline", "fondo derecho")),
    *(("left own sideline", "banda propia izquierda"), ("are set", "están firmes")),
    *(("right own sideline", "banda propia derecha"), ("a step", "un paso")),
    *(("left own baseline", "fondo propio izquierdo"), ("step", "paso")),
    *(("right own baseline", "fondo propio derecho"), ("new", "nuevo")),
    *(("half a step", "medio paso"), ("steps", "pasos"), ("halfway between", "a medias entre")),
    *(("above", "por encima de"), ("below", "por debajo de"), ("outside", "por fuera de")),
    *(("inside", "por dentro de"), ("left of", "a la izquierda de")),
    *(("right of", "a la derecha de"), ("the", "el")),
)
ALSO: Final[Pairs] = (
    # Read, never written.
    *(("the", "la"), ("the", "los"), ("the", "las"), ("cuts", "corre"), ("cuts", "se mueve")),
    *(("cuts", "esprinta"), ("screens", "hace un bloqueo"), ("holds", "se queda")),
    *(("pops", "se abre"), ("clears out", "se aparta"), ("passes", "da un pase")),
    *(("is set", "está puesto"), ("is set", "está puesta"), ("is set", "está listo")),
    *(("ends", "acaba"), ("ends", "llega"), ("goes", "sale"), ("is caught", "es recibido")),
    *(("basket", "canasta"), ("nail", "tiros libres"), ("nail", "línea de tiros libres")),
    *(("top", "frontal"), ("hand-off", "entrega"), ("to", "hacia"), ("on to", "luego a")),
    *(("2 steps", "dos pasos"), ("3 steps", "tres pasos"), ("looks", "lecturas")),
    *(("in front of", "por delante de"), ("behind", "por detrás de")),
    *(("with the ball", "con el balón"), ("catches", "recibe"), ("has the ball", "tiene el balón")),
)
_ON_A_SIDE: Final[Pairs] = (
    *(("block", "el poste bajo izquierdo"), ("mid post", "el poste medio izquierdo")),
    *(("elbow", "el codo izquierdo"), ("dunker", "el dunker spot izquierdo")),
    *(("short corner", "la esquina corta izquierda"), ("corner", "la esquina izquierda")),
    *(("wing", "el ala izquierda"), ("slot", "el slot izquierdo")),
    *(("hash", "la marca de banda izquierda"),),
)
_IN_BOTH_HALVES: Final = ("block", "elbow", "corner", "wing", "hash")
_OURS: Final[Pairs] = (("el ", "nuestro "), ("la ", "nuestra "), ("nuestro ala", "nuestra ala"))
_OUT_AT_A_SIDE: Final[Pairs] = (
    ("half", "el extremo izquierdo de la línea central"),
    ("sideline corner", "la banda izquierda, junto a la esquina"),
    ("sideline free throw", "la banda izquierda, a la altura de los tiros libres"),
    ("sideline hash", "la banda izquierda, en la marca de saque"),
    ("sideline half", "la banda izquierda, en la línea central"),
    ("sideline back", "la banda izquierda, en nuestra marca de saque"),
    ("baseline lane", "la línea de fondo, a la izquierda de la zona"),
    ("baseline corner", "la línea de fondo, junto a la esquina izquierda"),
    ("back baseline lane", "nuestra línea de fondo, a la izquierda de la zona"),
    ("back baseline corner", "nuestra línea de fondo, junto a la esquina izquierda"),
)
_IN_THE_MIDDLE: Final[Pairs] = (
    *(("basket", "el aro"), ("nail", "el centro de la línea de tiros libres")),
    *(("top", "la cabecera"), ("lane middle", "el centro de la zona")),
    *(("centre", "el círculo central"), ("back basket", "nuestro aro")),
    *(
        ("back nail", "el centro de nuestra línea de tiros libres"),
        ("back top", "nuestra cabecera"),
    ),
    ("baseline middle", "la línea de fondo, detrás del aro"),
    ("back baseline middle", "nuestra línea de fondo, detrás del aro"),
)


def _places() -> Pairs:
    """Every place by both names; the right side's are the left side's with the other word."""
    back = tuple(
        (f"back {name}", _ours(said)) for name, said in _ON_A_SIDE if name in _IN_BOTH_HALVES
    )
    left = (*_ON_A_SIDE, *back, *_OUT_AT_A_SIDE)
    right = [(name, said.replace("izquierd", "derech")) for name, said in left]
    return (
        *((f"left {name}", said) for name, said in left),
        *((f"right {name}", said) for name, said in right),
        *_IN_THE_MIDDLE,
    )


def _ours(said: str) -> str:
    """The place of the same name by the basket that one defends."""
    for article, ours in _OURS:
        said = ours + said.removeprefix(article) if said.startswith(article) else said
    return said


PLACES: Final[Pairs] = _places()
FORMER_PLACES: Final[Pairs] = (
    # What places of the backcourt were called before: read, never written.
    *(
        (f"{side} back {name}", f"{said.replace('izquierd', stem)} de la pista trasera")
        for name, said in _ON_A_SIDE
        for side, stem in (("left", "izquierd"), ("right", "derech"))
        if name in _IN_BOTH_HALVES
    ),
    *(
        (f"{side} sideline back", f"la banda {said}, en la pista trasera")
        for side, said in (("left", "izquierda"), ("right", "derecha"))
    ),
    ("back basket", "el aro de la pista trasera"),
    ("back nail", "el centro de la línea de tiros libres de la pista trasera"),
    ("back top", "la cabecera de la pista trasera"),
)
