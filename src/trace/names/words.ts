/**
 * Words in layer names, by language: common words of the trade, no source, beside the groups of the US National CAD Standard as seen in
 * public drawings. All in lower case; words are parted before they are looked up (see split.ts).
 */

const words = (...lists: string[]): ReadonlySet<string> => new Set(lists.join(' ').split(' '));

export const WALL = words(
  'wall walls wal',
  'wand wände waende mauer mauern',
  'muur muren wanden',
  'mur murs voile voiles',
  'muro muros muri parete pareti pared paredes parede',
  'vegg vegger vägg väggar vagg vaggar væg vægge vaeg vaegge',
  'seinä seinät seina seinat sein seinad siena sienas sienos',
  'стена стены стен стіна стіни ściana ściany sciana sciany stěna stěny stena steny zeď zid zidovi ziduri',
  'duvar duvarlar perde perdeler perete pereti pereți fal falak τοίχος τοίχοι τοίχοσ',
  'جدار جدران קיר קירות',
);

export const FOUNDATION = words(
  'fndn fnd fdn fdtn found foundation foundations substructure substr',
  'fund fundament fundamente gründung gruendung',
  'fundamenten fundering funderingen',
  'fondation fondations fondazione fondazioni cimentacion cimentación cimientos cimiento fundação fundacao fundações fundacoes',
  'fundering grunnmur grundmur grundmurar perustus perustukset sokkel sockel vundament pamati pamatai',
  'фундамент фундаменты фундаменти fundacja fundacje fundamenty temelj temelji základ základy zaklady fundatie fundatii fundație',
  'temel temeller alap alapozás θεμέλιο θεμέλια θεμελίωση أساسات יסודות',
);

/** With a word for wall: a wall that stands in the ground. */
export const STEM = words(
  'stem stemwall frost basement bsmt cellar retaining retain retg ret',
  'keller kg ug untergeschoss kellergeschoss stütz stuetz stützmauer stuetzmauer winkelstütz',
  'kelder keer keermuur keerwand souterrain',
  'soutènement soutenement cave',
  'sótano sotano subsuelo contención contencion interrato cantina contenimento cave subsolo contenção',
  'kjeller källare källar kallare kælder kaelder kellari støtte stotte stödmur stodmur støttemur',
  'подвал подвала подпорная подпорные piwnica piwnic oporowa oporowe suterén suteren bodrum pince sprijin',
);

export const CONCRETE = words(
  'conc concrete rc rcc cip',
  'beton betons stahlbeton stb btn ortbeton sichtbeton gewapend',
  'béton hormigon hormigón concreto betão betao calcestruzzo cls',
  'betong betoni бетон бетона железобетон жб żelbet zelbet betonarme',
);

/** With a word for wall: a wall that carries. */
export const CARRYING = words(
  'shear bearing brg struct structural core tragend tragende tragwand porteur porteurs portante portanti carga dragend dragende bærende',
  'bärande kantava несущие несущая nośna nosne nosná taşıyıcı',
);

export const FOOTING = words(
  'footing footings footer footers ftg ftgs ftng ftngs pcap pilecap pile piles pad pads caisson caissons raft grbm',
  'streifenfundament streifenfundamente einzelfundament einzelfundamente punktfundament punktfundamente köcherfundament fundamentplatte',
  'fundamentstreifen bodenplatte sohlplatte pfahl pfähle pfaehle',
  'poer poeren strook stroken paal palen heipaal heipalen fundatieplaat',
  'semelle semelles longrine longrines pieu pieux radier',
  'zapata zapatas pilote pilotes encepado sapata sapatas estaca estacas plinto plinti platea palo pali',
  'antura anturat paalu paalut pæl pæle',
  'лента подошва сваи ростверк lawa ława ławy lawy stopa stopy pal pale',
);

/** Walls by name, but not cast against forms: partitions, masonry, timber, glass. */
export const NOT_CAST = words(
  'part partition partitions drywall dry gyp gypsum stud studs frmg framing curtain cwal timber wood cmu masonry masn brick brickwork',
  'blockwork move movable demountable toilet',
  'trockenbau trockenbauwand gipskarton gk leichtbau leicht holz mauerwerk ziegel kalksandstein porenbeton vorhang trenn',
  'metselwerk gips houten scheidingswand scheidings cloison cloisons maçonnerie maconnerie brique bois placo',
  'tabique tabiques ladrillo tabiquería mampostería mamposteria madera tramezzo tramezzi muratura legno divisória divisoria alvenaria madeira',
  'перегородка перегородки кирпич działowa dzialowa dzialowe murowana příčka příčky příčka',
);

export const NOT_WALL = words(
  // Groups of the National CAD Standard and their like.
  'anno patt iden dims symb nplt cntr head hedr sill cavi fini insu insl insul otln elev sect detl revs redl ttlb vprt jnts glaz flor clng roof',
  'furn fixt eqpm equip case appl strs evtr lite powr comm ovhd abov uppr prop topo site rbar rein reinf slab beam cols grid equi opng open',
  // Writing and marks.
  'text txt texts texte tekst testo texto dim dimension dimensions cote cotes cota cotas quote bemaßung bemassung maße masse note notes',
  'symbol symbols hatch hatching schraffur schraffuren hachure hachures sombreado arcering штриховка размеры текст',
  'grid axis axes achse achsen axe axen ejes eje assi stramien stramienen cent center centre centerline centreline cline оси osie',
  'construction rebar reinforcement bewehrung wapening armature ferraillage armadura armatura armering',
  'title titleblock border frame defpoints viewport viewports vport legend north schedule',
  'section sections elevation elevations view views joint joints schnitt schnitte ansicht ansichten coupe coupes façade facade',
  // Other parts of a building.
  'door doors tür türen tuer tueren porte portes puerta puertas porta portas deur deuren dør dörr двери drzwi dveře kapı',
  'glass glazing window windows wind win fenster fenêtre fenetre fenetres fenêtres ventana ventanas raam ramen janela vindu fönster окна okna',
  'pencere crystal furniture möbel moebel mobilier meubles mobili mobiliario muebles meubel мебель fixture fixtures',
  'platte decke decken dalle dalles losa losas solaio vloer vloeren slabs beams balken poutre poutres viga vigas trave travi балки',
  'col column columns stütze stützen stuetze stuetzen pilar pilares poteau poteaux pilastro pilastri kolom kolommen колонны słupy kolon',
  'stair stairs treppe treppen escalier escaliers escalera escaleras scala scale trap trappen лестница schody merdiven',
  'dach toit tejado tetto dak truss trusses joist joists elec electrical plumb plumbing plmb hvac mech casework opening openings',
  'header headers ceil ceiling floor flooring floors site property over overhang overbuild projection fire outline footprint',
  'insulation dämmung daemmung isolatie isolation isolant aislamiento isolamento finish rail railing handrail defs temp scratch image xref',
  'slope drain drains sewer water gas lighting lght power cancel parapet attika',
);

export const EXISTING = words(
  'exst exist existing exstg existg etr bestand bestehend bestehende existant existants existante esistente existente existentes bestaand',
  'bestaande eksisterende befintlig befintliga сущ существующие istniejące istniejace mevcut stávající meglévő nykyinen',
);

export const DEMOLISHED = words(
  'demo demol demolish demolition dmol removed remove abbruch abriss rückbau rueckbau démolition démolir demolir demolizione demolición',
  'demolicion demolição sloop slopen riving rivning wyburzenie wyburzenia снос демонтаж yıkım bourání bontás',
);

/** Neither built now nor left standing by this contract. */
export const NOT_NOW = words('future futr futur nic notincontract temporary');

/** Written without gaps between words: looked for anywhere in the name. */
export const GAPLESS: readonly (readonly [
  RegExp,
  'wall' | 'foundation' | 'stem' | 'concrete' | 'footing' | 'other',
])[] = [
  [/幕墙|门|門|窗|柱|梁|板|楼梯|樓梯|钢筋|鋼筋|轴|軸|标注|標註|尺寸|文字|填充|창|기둥|계단|치수|보강|철근/u, 'other'],
  [/墙|牆|壁|벽/u, 'wall'],
  [/基础|基礎|기초/u, 'foundation'],
  [/地下|挡土|擋土|지하|옹벽/u, 'stem'],
  [/混凝土|콘크리트|コンクリート/u, 'concrete'],
  [/垫层|承台|桩|樁|말뚝|杭/u, 'footing'],
];

/** Names of blocks that stand for things in a building: what they draw is no wall, on whatever layer. */
export const THINGS = words(
  'door doors window windows bed chair table desk sofa couch sink basin wc toilet bath bathtub shower stove fridge furniture car truck tree',
  'tür tuer fenster bett stuhl tisch sessel waschbecken waschtisch wanne dusche herd auto pkw baum möbel nordpfeil',
  'porte fenêtre fenetre lit chaise canapé lavabo évier baignoire douche voiture arbre puerta ventana cama silla mesa bañera ducha coche árbol',
  'porta finestra letto sedia tavolo divano vasca doccia albero deur raam stoel tafel wastafel douche дверь окно кровать стул стол ванна',
);
