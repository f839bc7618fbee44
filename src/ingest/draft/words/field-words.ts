import type { RecordKind } from "../../mapping/canonical-fields.ts";

/** Words by which headers name a field, as phrases of `tokens.ts`; `never` are words that stand in headers of something else. */
export type FieldWords = { words: string[]; never?: string };

// Parts of phrases: the meter, and the two times at which it is read.
const METER =
  "meter|hours|hrs|hour|hourmeter|smu|zaehler*|betriebsstunden|betriebsstd|std|stunden|stundenzaehler|laufzeit|laufstunden|bstd|bh";
const OUT =
  "pulled|removed|removal|return*|ausbau*|ausgebaut|out|off|came|when+in|abbau*|rem|failure|demont*|in|eingang*|arrival";
const IN =
  "put+back|install*|inst|refit*|reinst*|into+service|back+in+service|hand+out|handed|einbau*|eingebaut|went|fitted|back|restart|neustart|out+of+shop";
// The weight of words that stand for another thing as often: little enough for a question.
const MAYBE = "^2.1";
const UNIT = [
  "frame|frm|serial|ser|serie|sn|s+n|unit|rahmen|rahmennummer|rahmennr|seriennummer|seriennr|serien|aggregat|geraet*|equip*|asset|fabriknummer|fabriknr|equi|lagertraeger*|lagerbock*|lagerstuhl*|lagergehaeuse*|gestell*|bearing+housing|chassis|corps+palier|equipement|ensemble",
  "frame|frm|unit|bearing+frame|housing|rahmen|geraet|fabrik|serien|gestell|lagertraeger|lagerbock|lagerstuhl serial|sn|s+n|no|nr|id",
  "pump|machine|maschine serial|sn|seriennummer^3",
  `palier|paliers|repere${MAYBE}`,
];
const LENGTH_OF_DAY = "labour labor booked man worked arbeits* lohn* spent price cost";

/**
 * The trade's own header words by record kind and field, English, German, French and Spanish; words of another language are one more entry each.
 * Common practice, no source.
 */
export const FIELD_WORDS: Record<RecordKind | "long" | "measured" | "slot", Record<string, FieldWords>> = {
  rebuild: {
    card: {
      words: [
        "card|jobcard|job|ticket|docket|karte|jobno|jc|arbeitskarte|auftrag*|arbeitsauftrag*|werkstattauftrag*|reparaturauftrag*|serviceauftrag*|workorder|wo|w+o|ro|r+o",
        "job|shop|work|repair|service card|order|ticket|no",
        "fiche|bon+travail|ordre+travail|ot|orden|orden+trabajo",
        "order|beleg*|vorgang*|report|bericht*^2",
        "rep|reparatur nr|nummer|no|number",
        `id${MAYBE}`,
        `ref|reference|referenz|repnr${MAYBE}`,
      ],
      never: "total cards type date status part customer purchase",
    },
    fleet: {
      words: [
        "fleet|owner|customer|client|cust|proprietaire|exploitant|cliente|propietario|flota|kunde|kundenname|flotte|eigentuemer|betreiber|company|firma|auftraggeber",
      ],
      never: "po order purchase contact phone mail",
    },
    unit: {
      words: [...UNIT],
      never: "type model size typ bauart status cost count",
    },
    position: {
      words: [
        "position|pos|tag|location|loc|platz|einbauort|einsatzort|pump|pumpe|pumpennummer|pumpennr|einbauplatz|standplatz|pumpenplatz|kks",
        "pump|pumpen tag|no|position|location|platz|loc",
        "went|installed|now|new|goes|neuer|neu pump|position|platz|location|tag",
        "out+to^4",
        "station|standort|unit+location^2",
        `messstelle${MAYBE}`,
        "emplacement|poste|repere^2.6",
        "ubicacion|posicion|bomba|aufstellort|aufstellungsort|aufstellplatz|technischer+platz",
      ],
      never:
        "from came previous prior old vorher vorheriger bisher alter find part slot model type serial failure fail failed damage",
    },
    site: {
      words: [
        "site|depot|usine|atelier|planta|sitio|area|plant|bereich|werk|standort|abteilung|yard|region|department|betrieb|anlage|mine|station",
        "went|installed|goes|neuer|to station|site|area|plant|bereich|depot",
        "location^1.5",
      ],
      never: "from came previous prior old vorher bisher power in",
    },
    model: {
      words: [
        "model|modele|modelo|mdl|type|tipo|typ|bauart|baureihe|modell|frame+size|baugroesse|groesse",
        "frame|unit|rahmen|pump type|model|size|typ",
        "size^2",
      ],
      never: "seal lube failure part bearing job order maintenance reason",
    },
    removed_on: {
      words: [
        "pulled|pull|removed|rmvd|removal|ausgebaut|ausbau|ausbaudatum|demontiert|demontage|demontagedatum|abgebaut|abbau|rem|dismantled|taken+out|took+out|oos|depose|demonte",
        "date|dt|datum|day|on removed|rmvd|removal|pulled|pull|ausbau|ausgebaut|rem|failed|failure|fail|breakdown|ausfall|taken+out",
        "out|taken|off|ausser service|svc|operation|use|line|betrieb",
        "desmontaje|desmontado|desmontada|retiro|retirado|extraccion|extraido",
        "fecha falla|fallo|averia|salida|parada",
        "ausfalldatum|ausfalltag|ausgefallen|stillgesetzt^3",
        "date|dt|datum|day off|out^3",
        "out|off|failed^2",
        `date+returned|returned${MAYBE}`,
        // The only date of a card.
        "date|dt|datum|day|fecha|jour^1.85",
      ],
      never: `${"hours hrs meter zaehler* zaehlerstand stunden std"} from by reason why because end hand handed float seit since shop workshop`,
    },
    received_on: {
      words: [
        "received|reception|recepcion|recibido|ingreso|recu|receipt|rcd|rec+d|arrived|arrival|eingang|eingangsdatum|eingegangen|angeliefert|anlieferung|anlieferdatum|rcvd|recd|recvd|wareneingang",
        "into|in|at|reached shop|workshop|werkstatt",
        `erhalten|booked+in|checked+in|zurueck|date+returned|zurueckgekommen|returned${MAYBE}`,
        "work|job|repair started|start|opened",
        "date in^3",
        "in|started|opened^2",
      ],
      never: "hours hrs meter zaehler* service betrieb built back condition",
    },
    built_on: {
      words: [
        "built|build|rebuilt|remontage|remonte|revise|finished|completed|compl|cmpl|completion|fertig|fertiggestellt|montiert|assembled|instandgesetzt|ueberholt|fertigstellung",
        "work|job|repair|rebuild|date finished|completed|complete|done|built|closed",
        "rebuild|repair|overhaul|build|assembly|reparatur|instandsetzung|ueberholung|montage date|dt|datum|finished|completed|done|fertig",
        "terminado|terminada|reparado|reparada|armado|rearmado|ensamblado|finalizado|blt|bltd|bld|rblt",
        "reparaturdatum|montagedatum|instandsetzungsdatum|ueberholungsdatum|montage|endmontage|zusammengebaut^3",
        "out|left shop|workshop|werkstatt",
        "date out^3",
        "closed|ready|tested|complete|done|abgeschlossen^2.5",
        "out^2",
      ],
      never: "hours hrs meter zaehler* by from hand handed last float end",
    },
    installed_on: {
      words: [
        "installed|installation|install|inst|eingebaut|einbau|einbaudatum|refitted|refit|reinstall*|reinst|recommission*|inbetriebnahme|inbetriebnahmedatum|restart|restarted|startup|neustart",
        "back|put|in|into service|svc|operation|betrieb|use|run|line",
        "back in|on|into",
        "date|dt|day on^3",
        "start|started|restart up|date",
        "date|dt|datum installed|einbau|eingebaut|fitted|install|inst",
        "handed|hand|given|sent out",
        "put|went|sent back",
        "back on|date|dt",
        "date in^3",
        "pose|repose|mise+service|remise+service",
        "instalado|instalada|instalacion|puesta+marcha|puesta+servicio|reinstalado",
        "on^2",
        "returned to|into service|svc|operation|betrieb|use|run|line^3",
        `date+returned|in|back|returned${MAYBE}`,
        "fitted|shipped|delivered|ausgeliefert|started+up^2.5",
        `ship|dispatch*|despatch*|auslieferung|versand*|versandt|rueckgabe|ruecklieferung|zurueck|zurueckgegeben${MAYBE}`,
      ],
      never: "hours hrs meter zaehler* first last seen by pump tag station site",
    },
    revised_on: {
      words: ["revised|amended|geaendert|berichtigt|aenderungsdatum|updated|modified", "last changed|change|edit*"],
      never: "by reason",
    },
    hours_removed: {
      words: [
        `${METER} ${OUT}`,
        "hours|hrs|meter|betriebsstunden|zaehlerstand|hourmeter|smu^2.6",
        `run|running|ran|operating|operation|oper|op|service|betriebs|betr hours|hrs|hour|hr|h|time|std|stunden${MAYBE}`,
        `stunden|std|bstd|bh|laufstunden|laufzeit|runtime|runhours|runninghours|oh${MAYBE}`,
        "heures|horametre|compteur|heures+compteur|horometro|horas|horas+marcha^2.6",
        "horometro|horas desmontaje|retiro|salida|falla",
        "heures|horametre|compteur depose|demontage|arret",
      ],
      never: `${LENGTH_OF_DAY} new neu change* wechsel since seit last letzte* next per pro planned`,
    },
    hours_installed: {
      words: [
        `${METER} ${IN}`,
        "heures|horametre|compteur pose|repose|remontage",
        "horometro|horas instalacion|puesta+marcha",
      ],
      never: LENGTH_OF_DAY,
    },
    reason: {
      words: [
        "reason|rsn|rfr|why|motif|motivo|razon|raison|grund|because|anlass|ausbaugrund|rueckgabegrund|removal+reason|symptom|complaint|beanstandung",
        "nature|kind|type failure|fault|problem",
        "reason|rsn|cause|grund removal|pulled|ausbau|visit|return|failure",
        "cause|causa|ursache|fault|fehler|problem|ausfallursache|ausfallgrund|stoerung|stoerungsgrund|fehlerursache|demontagegrund^2.5",
      ],
      never: "damage date by",
    },
    failed_slot: {
      words: [
        "ausgefallen|ausgefallenes|schuldig|culprit",
        "failed|failure|fail|defektes|ausgefallenes component|part|item|slot|place|location|bauteil|teil|stelle|comp",
        "schadensstelle|schadensort|fehlerort^3",
        "failed^2.5",
      ],
      never: "date",
    },
    lube: {
      words: [
        "lube|lubed|lubrication|lubrification|graissage|lubricacion|lubricante|lubricant|schmier*|lub|schmierart",
        "oil+grease|oel+fett^4",
        "oil|grease|oel|fett^2",
      ],
      never: "found change level stand quantity menge",
    },
    seal_arrangement: {
      words: [
        "seal|seals|sealing fit|arrangement|arr|type|kind|config*|setup|design",
        "dichtungsart|dichtungsanordnung|dichtungsausfuehrung|abdichtung",
      ],
    },
    end_play: {
      words: [
        "endplay|axialspiel|endfloat|ep|e+p|endspiel|lagerspiel|axialluft|float",
        "end|axial|shaft|thrust play|float|clearance|jeu|juego|holgura",
        "end+play|endplay|axialspiel|spiel|axialluft|float|ep|e+p|axial+play|jeu+axial|juego+axial|holgura+axial regle|ajustado|set|built|blt|final|left|eingestellt|after|nach|nachher|neu|soll|ist|assembled|out",
        `spiel|laengsspiel|lagerluft${MAYBE}`,
      ],
      never:
        "found fnd before encontrado encontrada hallado antes vorgef vorgefunden gefunden befund vor vorher alt arrival incoming received date radial* limit max min target without ohne unshimmed",
    },
    end_play_found: {
      words: [
        "end+play|endplay|axialspiel|spiel|axialluft|float|ep|e+p|end+float|axial+play|jeu+axial|juego+axial|holgura+axial found|encontrado|encontrada|hallado|antes|inicial|vorgef|trouve|avant|constate|before|vorgefunden|gefunden|befund|vor|vorher|arrival|incoming|received|eingang|fnd|alt|teardown",
      ],
    },
    shims: {
      words: [
        "shim|shims|shimming|cale|cales|calage|laina|lainas|calzos|beilage*|passscheibe*|ausgleichsscheibe*|ausgleichscheibe*|distanzscheibe*|abstimmscheibe*|einstellscheibe*|unterlegung",
        "shim pack|total|thickness|dicke",
      ],
      never: "without ohne w+o before unshimmed",
    },
    race_depth: {
      words: [
        "race|races|raceway|cup|bearing|brg|ring|lager|aussenring|laufring depth|tiefe",
        "ringtiefe|lagertiefe|aussenringtiefe|laufringtiefe|lagereinbautiefe|racedepth",
        "race|raceway|cup|bearing|brg|ring|aussenring|laufring face|stirnflaeche|gehaeuseflaeche to|below|from|under|unter|bis",
      ],
      never: "damage condition groove rille number",
    },
    spigot_height: {
      words: [
        "spigot|zentrierbund|zentrieransatz|zentrierrand|deckelbund|deckelansatz",
        "spigot|register|nose|bund|zentrierbund|zentrieransatz|ansatz|deckelbund|deckelansatz height|length|hoehe|laenge|mass",
        "bundhoehe|ansatzhoehe|zentrierhoehe|deckelhoehe|spigotheight",
      ],
      never: "damage condition diameter durchmesser dia fit passung",
    },
    end_play_unshimmed: {
      words: [
        "end+play|endplay|axialspiel|spiel|axialluft|float|ep|end+float|axial+play|clearance without|w+o|before|no|less|ohne|vor shim|shims|shimming|beilage*|passscheibe*|ausgleichsscheibe*|distanzscheibe*|einstellscheibe*",
        "end+play|endplay|axialspiel|spiel|axialluft|float|ep|end+float|axial+play unshimmed|ungeshimmt|shimless",
        "unshimmed|ungeshimmt",
      ],
    },
    ring_temperature: {
      words: [
        "ring|heat*|bearing|brg|fit|fitting|lager|anwaerm* temp|temperature|temperatur",
        "ringtemperatur|anwaermtemp*|montagetemp*|fuegetemp*|lagertemperatur|erwaermt|heated",
        "mounting|mount temp|temperature|temperatur",
        "temp|temperature|temperatur^2.6",
      ],
      never: "ambient oil room running",
    },
    speed: { words: ["speed|rpm|drehzahl|vitesse|velocidad|revs|n", "shaft|pump speed|rpm"], never: "hours" },
    fitter: {
      words: [
        "fitter|mecanicien|technicien|tecnico|mecanico|montador|tech|technician|mechanic|monteur|schlosser|assembler|mechaniker|bearbeiter|fitted+by|built+by|rebuilt+by|assembled+by|montiert+von|gebaut+von|mech|fitters",
        "done|worked|repaired|overhauled|ausgefuehrt|durchgefuehrt|repariert by|von|durch^3",
        "by|initials|sign|kuerzel|mitarbeiter^2",
      ],
      never:
        "date hours checked approved created entered printed inspected geprueft erstellt angelegt received removed",
    },
    remarks: {
      words: [
        "remark*|remarque*|rmk*|comment*|notes|note|bemerkung*|bem|anmerkung*|anm|hinweis*|text|freitext|description|beschreibung|kommentar*|observation*|observacion*|comentario*|sonstiges",
      ],
      never: "delivery credit debit date",
    },
  },
  long: {
    slot: {
      words: [
        "slot|component|comp|place|stelle|bauteil|komponente|einbaustelle|element|componente|elemento",
        "where|item|ort|what^2",
      ],
      never: "failed ausgefallen number no",
    },
  },
  measured: {
    measure: {
      words: [
        "characteristic|measure|measurement|mesure|caracteristique|medida|medicion|caracteristica|merkmal|messgroesse|parameter|kennwert|pruefmerkmal|dimension|feature",
        "check|test|item|name^2",
      ],
      never: "value wert unit",
    },
  },
  slot: {
    condition: {
      words: [
        "found|condition|cond|state|etat|estado|condicion|encontrado|constat|befund|zustand|cnd|as+found|status|fnd|gefunden|vorgefunden",
      ],
      never: "play endplay float clearance spiel axialspiel by",
    },
    damage_mode: {
      words: ["damage|mode|avarie|dommage|dano|schaden|schadensbild|schadensart|defect|dmg|failure+mode|schad"],
    },
    fitted: {
      words: [
        "new|neuf|remplace|remplacee|remplaces|cambiado|cambiada|cambio|reemplazado|reemplazada|sustituido|sustituida|nuevo|nueva|renovado|replaced|replace|renewed|renew|fitted|changed|change|erneuert|neu|getauscht|ausgetauscht|ersetzt|gewechselt|repl|rpl|rpld|repld|rplcd|replcd|exchanged|tausch|austausch|chg|chgd|swapped",
      ],
      never: "on date by",
    },
    part: { words: ["part|pn|teil|teilenummer|teilenr|artikel|partno|bezeichnung|p+n|designation|material"] },
    batch: { words: ["batch|lot|charge|los|chargennummer|chg+nr|heat+no"] },
  },
  unit: {
    fleet: {
      words: ["fleet|owner|customer|client|kunde|flotte|eigentuemer|betreiber|company|firma"],
    },
    unit: {
      words: [...UNIT],
      never: "type model size typ bauart status",
    },
    model: {
      words: [
        "model|type|typ|bauart|baureihe|modell|baugroesse|groesse",
        "frame|unit|rahmen|pump type|model|size|typ",
        "size^2",
      ],
      never: "seal lube",
    },
    site: {
      words: [
        "site|station|depot|area|plant|bereich|werk|standort|abteilung|yard|region|department|anlage|mine",
        "location^1.5",
      ],
    },
    position: {
      words: [
        "position|pos|tag|location|loc|platz|einbauort|einsatzort|pump|pumpe|einbauplatz",
        "pump|pumpen tag|no|position|location|platz|loc",
      ],
      never: "serial type model",
    },
    speed: { words: ["speed|rpm|drehzahl|revs", "shaft|pump speed|rpm"] },
    commissioned_on: {
      words: [
        "commissioned|commissioning|inbetriebnahme|inbetriebnahmedatum|startup",
        "first|since|seit|erst*|placed|put service|betrieb|use|run|operation",
        "start|started up",
        "installed|bought|purchased|delivered|new|acquired|baujahr^2",
        `date|dt|datum installed|bought|purchased|delivered|acquired${MAYBE}`,
      ],
      never: "last seen gesehen rebuil*",
    },
    last_rebuilt_on: {
      words: [
        "last|latest|previous|letzte|letzter rebuil*|overhaul*|ueberhol*|repair*|revision|service",
        "rebuilt|ueberholt^2.5",
      ],
    },
    listed_on: {
      words: [
        "seen|gesehen|listed|stand|gelistet|verified|inventur|bestaetigt",
        "as+of|last+seen|status+date|list+date|printed|zuletzt+gesehen|date+of+list",
        "checked|inspected|running+on^2.5",
      ],
    },
  },
  reading: {
    fleet: { words: ["fleet|owner|customer|client|kunde|flotte|eigentuemer|betreiber"] },
    unit: {
      words: [...UNIT],
    },
    read_on: {
      words: [
        "read|reading|releve|lectura|fecha|abgelesen|ablesung|ablesedatum|round|taken|datum|date",
        "date|datum|day reading|read|round|ablesung|taken",
      ],
      never: "hours old change",
    },
    hours: {
      words: [
        "hours|hrs|meter|horometro|horas|heures|horametre|compteur|stunden|zaehlerstand|betriebsstunden|std|hourmeter|smu|bh|laufzeit",
        "meter|hour|zaehler reading|stand|hours|wert",
        "reading|value^2",
      ],
      never: "old new change* alter alt neuer wechsel previous",
    },
    meter_changed: {
      words: [
        "new|changed|change|replaced|neuer|wechsel|swap* meter|counter|zaehler|hourmeter",
        "zaehlerwechsel|zaehlertausch",
      ],
      never: "old alter",
    },
    old_meter_hours: {
      words: ["old|previous|alter|alt|former meter|counter|zaehler|hours|hourmeter|reading", "altzaehler"],
    },
  },
  retirement: {
    fleet: { words: ["fleet|owner|customer|client|kunde|flotte|eigentuemer|betreiber"] },
    unit: {
      words: [...UNIT],
    },
    retired_on: {
      words: [
        "retired|scrapped|decommissioned|ausgemustert|stillgelegt|disposed|withdrawn|baja|desguace|verschrottet|abgang|abgangsdatum|disposal",
        "out|taken|ausser use|betrieb|service|fleet",
        "date|datum retired|scrapped|disposal|abgang|sold",
        "sold|date|datum^2",
      ],
    },
    cause: {
      words: ["cause|reason|motivo|causa|motif|verbleib|grund|fate|why|disposal|how|what", "became|become it|of|what"],
    },
  },
  stock: {
    part: {
      words: [
        "part|item|material|artikel|teil|pn|partno|teilenummer|artikelnummer|artikelnr|materialnummer|sku|designation",
      ],
    },
    place: { words: ["place|store|bin|shelf|warehouse|lagerort|lagerplatz|fach|location|regal|lager|storage"] },
    counted_on: {
      words: [
        "counted|count|inventur|gezaehlt|stichtag|inventurdatum|stocktake",
        "count|stock|as date|datum|of",
        "date|datum^2.5",
      ],
    },
    on_hand: {
      words: [
        "hand|stock|qty|quantity|bestand|lagerbestand|menge|available|anzahl|onhand|stueck|soh",
        "on|in|auf hand|stock|shelf|lager",
      ],
      never: "order ordered bestellt min minimum date",
    },
    on_order: {
      words: ["ordered|bestellt|incoming|inbound|bestellmenge|onorder", "on|in|offen order|bestellung|transit"],
    },
    due_on: { words: ["due|eta|expected|delivery|lieferung|liefertermin|lieferdatum|termin|arrives"], never: "time" },
  },
  part: {
    part: {
      words: [
        "part|item|material|artikel|teil|pn|partno|teilenummer|artikelnummer|artikelnr|materialnummer|sku|designation",
      ],
      never: "replaced superseded ersetzt",
    },
    title: { words: ["title|description|name|bezeichnung|benennung|text|beschreibung|desc"] },
    slot: {
      words: ["slot|component|place|stelle|bauteil|komponente|used|einbaustelle|position|where", "goes|fits into|in"],
    },
    price: { words: ["price|cost|preis|stueckpreis|einzelpreis|kosten|each", "unit price|cost"] },
    currency: { words: ["currency|waehrung|cur|curr"] },
    lead_time: {
      words: ["lead|leadtime|lieferzeit|wiederbeschaffungszeit|wbz|beschaffungszeit", "delivery|lead time|days|weeks"],
      never: "min max low high shortest longest",
    },
    lead_time_low: { words: ["lead|delivery|lieferzeit|leadtime min|minimum|low|shortest|best|kurz*"] },
    lead_time_high: { words: ["lead|delivery|lieferzeit|leadtime max|maximum|high|longest|worst|laengst*"] },
    pack_size: { words: ["pack*|ve|verpackung*|gebinde|verpackungseinheit"], never: "price" },
    minimum_order: {
      words: ["minimum|min|moq|mindest* order|qty|quantity|menge|bestellung", "moq|mindestmenge|mindestbestellmenge"],
    },
    replaced_by: {
      words: [
        "replaced|superseded|successor|nachfolger|ersetzt|ersatz by|durch|part",
        "successor|nachfolger|superseded",
      ],
    },
  },
  bearing: {
    part: {
      words: ["part|item|bearing|brg|lager|roulement|rodamiento|pn|designation|bezeichnung|teilenummer|artikel|teil"],
      never: "kind type art",
    },
    kind: { words: ["kind|type|art|bauform|rolling+element|waelzkoerper"] },
    bore: { words: ["bore|bohrung|innendurchmesser|bohrungsdurchmesser", "inner|inside|shaft diameter|dia", "d^2"] },
    outside_diameter: { words: ["od|aussendurchmesser", "outer|outside|housing diameter|dia", "d^2"] },
    width: { words: ["width|breite", "b^2"] },
    dynamic_rating: { words: ["dynamic|dyn|dynamische rating|load|tragzahl|capacity|c", "dynamic|cdyn", "c^3"] },
    static_rating: { words: ["static|stat|statische rating|load|tragzahl|capacity|c0", "static|c0|cstat", "co^2.5"] },
    fatigue_limit: { words: ["fatigue|ermuedung* limit|load|grenz*", "cu|pu^3", "ermuedungsgrenzbelastung"] },
    contact_angle: { words: ["contact|druck* angle|winkel", "angle|druckwinkel|winkel"] },
  },
};
