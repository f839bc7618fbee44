/** Owners' words for one of ours, as phrases; the first list that has the best match wins, `^` weighs. */
export type ValueWords = Record<string, string[]>;

/** Cells that mean "nothing recorded", in lower case. */
export const BLANK_MARKS = new Set([
  "-",
  "--",
  "---",
  "–",
  "—",
  "n/a",
  "na",
  "n.a.",
  "none",
  "nil",
  "null",
  "(blank)",
  "k.a.",
  "k. a.",
  "keine",
  "?",
  "??",
  ".",
  "/",
  "tbc",
  "tba",
  "unbekannt",
  "unknown",
  "not recorded",
  "ohne angabe",
  "n/r",
  "nicht erfasst",
  "s.o.",
  "sans objet",
  "nc",
  "n.c.",
]);

const YES_NO: ValueWords = {
  yes: [
    "yes|neuf|remplace|remplacee|y|ja|j|x|xx|true|1|t|new|neu|replaced|erneuert|si|oui|renewed|changed|getauscht|ersetzt|done|erledigt|fait|hecho|cambiado|cambiada|nuevo|nueva",
  ],
  no: ["no|n|nein|0|false|f|reused|alt|old|not|nicht|non|kept|wiederverwendet"],
};

const SEAL_DAMAGE: ValueWords = {
  lip_wear: [
    "lip|lippe worn|wear|abgenutzt|verschlissen|flat|abrieb",
    "worn|wear|abgenutzt|verschlissen|eingelaufen^2",
  ],
  lip_hardening: [
    "lip|lippe hard*|cooked|brittle|verhaertet|burnt|burned|verbrannt|sproede",
    "hard|hardened|cooked|brittle|verhaertet|burnt|sproede^3",
  ],
  lip_cut: [
    "lip|lippe cut|torn|nick*|damaged|eingeschnitten|eingerissen|gerissen",
    "cut|torn|nicked|eingeschnitten|gerissen^3",
  ],
};

const BEARING_DAMAGE: ValueWords = {
  subsurface_fatigue: ["spall*|flak*|schael*|abblaetter*|ausbruch*|ausbrueche"],
  surface_fatigue: [
    "pitting|pitted|pits|frost*|micropitting|gruebchen*|graufleck*|peel*|microspall*",
    "surface|oberflaeche pitting|fatigue|gruebchen",
  ],
  abrasive_wear: ["abras*|grit|dull*|lapped|abrieb|schmutz|dirt*|sand|scor*|riefen|verschleiss"],
  adhesive_wear: ["smear*|skid*|scuff*|gall*|anschmier*|fresser|gefressen"],
  moisture_corrosion: ["rust*|corro*|water|rost|verrostet|korrosion|korrodiert|wasser|etched"],
  fretting_corrosion: ["fret*|passungsrost|reibkorrosion"],
  false_brinelling: [
    "false brinell*",
    "standing|transport|stationary|standstill marks",
    "stillstandsmarken|standmarken|muldenbildung",
  ],
  excessive_current: [
    "arc*|strommarken|stromdurchgang|welded^3.5",
    "electric*|current pit*|burn*|damage|erosion|marks",
  ],
  current_leakage: ["flut*|washboard|riffel*"],
  overload_deformation: ["brinell*|overload*|ueberlast*|verform*|deform*|plastic"],
  indentation: ["dent*|indent*|eindruck|eindruecke|einlauf*|bruis*|denting"],
  forced_fracture: ["broken|fractur*|gewaltbruch|bruch|gebrochen|shatter*|cracked"],
  fatigue_fracture: ["fatigue crack*|fracture", "dauerbruch|ermuedungsbruch"],
  thermal_cracking: ["thermal|heat|hot crack*|checking", "waermeriss*|hitzeriss*|brandriss*"],
  not_classifiable: [
    "can+t|cannot|can|not tell|classif*|clear|identif*",
    "destroyed|zerstoert|unclear|unklar|unidentif*|unknown|unbekannt|collapsed|undetermined",
    "nicht zuzuordnen|feststellbar|erkennbar|bestimmbar",
  ],
};

/** Owners' words by field, English, German, French and Spanish; words of another language are more alternatives. Common practice, no source. */
export const VALUE_WORDS: Record<string, ValueWords> = {
  reason: {
    failure: [
      "fail*|panne|falla|fallo|averia|rotura|fuga|brkdn|brkdwn|avarie|casse|defaillan*|grippe|fuite|broke*|breakdown|seiz*|leak*|noisy|noise|shot|burnt|burned|ausfall*|ausgefallen|defekt*|undicht*|leck*|gebrochen|stoerung*|havarie|unplanned|ungeplant*|emergency|collapsed|gone|festgefressen|heissgelaufen|lagerschaden|knocking",
      "hot|vibrat*|vib|loud|laut|heiss|schaden|damage*|rumbl*|trip*|cut|grind*|bad|worn+out|wrecked|knackered^3.5",
    ],
    planned: [
      "plan|planned|planifie*|planificad*|programad*|preventi*|systematique|entretien|programme*|sched*|geplant*|vorbeugend*|planmaessig*|zeitplan|wartung*|prevent*|pm|routine|turnus*|fristgemaess|periodic|interval*|intervall|due",
      "hours|hrs|time|life|std|stunden|laufzeit up|reached|expired|erreicht|abgelaufen|due|voll",
      "overhaul|inspection|inspektion|ueberholung|revision|service^2.5",
    ],
    opportunity: [
      "opportun*|oportun*|arret|outage|shutdown|stillstand*|*stillstand|gelegenheit*|turnaround|shut|convenience|abstellung|anlagenstillstand|betriebsruhe",
      "done|while|whilst here|open|down|off|in|apart",
      "off hire|rent",
    ],
    modification: [
      "modif*|transformation|convert*|conversion|upgrad*|retrofit*|umbau*|umruest*|umgebaut|umgeruestet|nachruest*",
      "change|changed|changeover|umstellung to|auf|over",
    ],
    unknown: [
      "unknown|inconnu*|unbekannt|unclear|unklar|n+r|n+a|k+a|na|unk",
      "not recorded|stated|given|known|said",
      "ohne|keine|nicht angabe*|erfasst|bekannt|vermerk",
    ],
  },
  condition: {
    not_inspected: [
      "not|nicht|un|no looked|inspected|checked|geprueft|seen|gesehen|examined|opened|inspection|angesehen",
      "n+i|ni|ungeprueft|uninspected|unchecked",
      "non controle*|inspecte*|verifie*|vu",
    ],
    failed: [
      "fail*|defaillan*|fallad*|roto|rota|danad*|averiad*|schadhaft|def|hs|casse|grippe|detruit|defectueux|scrap*|shot|seiz*|broken|gone|bad|defekt*|gebrochen|zerstoert|ausgefallen|destroyed|dead|reject*|knackered|collapsed|schrott|kaputt|unserviceable|us|nok|nio|lagerschaden|schaden|leaking|undicht|burnt|spalled|cracked",
      "n+i+o|not+ok|no+good|u+s",
    ],
    worn: [
      "worn|desgast*|gastad*|use|usee|uses|usees|usure|wear|tired|verschlissen|verschl|abgenutzt|marginal|eingelaufen|verschleiss|grooved|borderline|poor",
    ],
    serviceable: [
      "good|bon|bonne|bueno|buena|bien|ras|bons|correct|ok|okay|fine|serviceable|gut|reusable|sound|pass*|brauchbar|io|ordnung|as+new|svc|wiederverwendbar|acceptable|clean|oke",
      "i+o|in+ordnung",
      "no|not|without|kein|keine|ohne damage|wear|defect|schaden|verschleiss|befund",
    ],
  },
  "damage_mode.bearing": BEARING_DAMAGE,
  "damage_mode.seal": SEAL_DAMAGE,
  "damage_mode.other": {
    sleeve_groove: ["groov*|laufrille|rille|rillen|eingelaufen|furrow*|track*", "worn|wear^2"],
    ...BEARING_DAMAGE,
  },
  "damage_mode.any": {
    ...BEARING_DAMAGE,
    ...SEAL_DAMAGE,
    sleeve_groove: ["groov*|laufrille|rille|rillen"],
  },
  lube: {
    oil_bath: ["oil|huile|aceite|oiled|oel|oelbad|oilbath|oelsumpf|sump|splash|oelschmierung|oils"],
    grease: ["greas*|graiss*|grasa|engrasad*|grs|fett|fettschmierung|gefettet"],
  },
  cause: {
    scrapped: ["scrap*|verschrottet|schrott|destroyed|dismantled|written+off|entsorgt|disposed"],
    sold: ["sold|sale|verkauft|verkauf|transferred|abgegeben"],
    lost: ["lost|missing|stolen|verschollen|verloren|gestohlen|vermisst"],
  },
  fitted: YES_NO,
  meter_changed: YES_NO,
  kind: {
    ball: ["ball|balls|acbb|dgbb|bolas|billes|kugel*|angular|deep|schraegkugellager|rillenkugellager"],
    roller: [
      "roller*|rollen*|crb|srb|trb|rodillos|rouleaux|zylinder*|cylindrical|taper*|kegel*|spherical|pendelrollen*|nadel*|needle",
    ],
  },
};
