/**
 * What a layer's name says. Sources of names: US National CAD Standard "Discipline-Major-Minor" fields (S-FNDN, S-FNDN-FTNG, A-WALL, S-GRID,
 * S-ANNO-DIMS …) and words for wall, foundation and footing in other languages (common words, no source).
 */

/** Ranked: the first kind that yields walls is taken. */
export type LayerKind = 'foundation-wall' | 'structural-wall' | 'foundation' | 'wall' | 'footing' | 'other' | 'silent';

const words = (list: string): ReadonlySet<string> => new Set(list.split(' '));

const WALL = words(
  'wall walls wal wand wände waende wanden mauer mauern mauerwerk mur murs muro muros muri parete pareti pared paredes parede paredes ' +
    'vegg vegger vägg väggar væg vægge seinä seinät seinat стена стены ściana sciana ściany sciany zid zidovi stěna stěny stena steny zeď ' +
    'duvar duvarlar perete pereti fal falak τοίχος τοίχοι 墙 墙体 牆 壁 벽',
);
const FOUNDATION = words(
  'fndn fnd fdn fdtn found foundation foundations fundament fundamente fundamenten fundering funderingen fondation fondations fondazione ' +
    'fondazioni cimentacion cimentación cimientos cimiento fundação fundacao fundações fundacoes fundering grunnmur grundmur perustus sokkel ' +
    'sockel фундамент фундаменты fundacja fundamenty temel temelji temelj základ základy fundatie fundatii 基础 基礎 기초',
);
const STEM = words('stem basement bsmt retaining keller kelder sous-sol sótano sotano frost stemwall stemwalls');
const FOOTING = words(
  'footing footings footer footers ftg ftgs ftng ftngs streifenfundament streifenfundamente fundamentplatte bodenplatte semelle semelles ' +
    'zapata zapatas sapata sapatas plinto plinti poer poeren strook stroken pad pads pile piles pilecap caps лента подошва ława lawa ławy',
);
const NOT_WALL = words(
  'anno text txt texts texte dim dims dimension dimensions cote cotes cota cotas quote bemaßung bemassung maße masse note notes symb symbol ' +
    'symbols patt hatch hatching schraffur schraffuren door doors tür türen tuer tueren porte portes puerta puertas porta deur deuren glaz ' +
    'glass glazing window windows wind fenster fenêtre fenetre fenetres ventana ventanas raam ramen crystal furn furniture möbel moebel ' +
    'meubles fixt fixture fixtures grid grids axis axes achse achsen axe axen stramien cent center centre cntr cline construction rbar rebar ' +
    'reinf reinforcement bewehrung wapening armature slab slabs platte beam beams balken cols col column columns stütze stützen stuetzen pilar ' +
    'pilares stair stairs strs treppe treppen escalier escaleras trap trappen roof dach toit truss trusses joist joists elec electrical plumb ' +
    'plmb hvac mech equip casework case opening openings header headers ceil ceiling clng flor floor flooring floors defpoints viewport viewports ' +
    'vport title ttlb titleblock border frame site topo property prop demo over overhang overbuild projection cancel fire outline footprint ' +
    'insul insulation dämmung daemmung isolatie finish fini rail railing handrail defs temp scratch image xref legend north schedule section ' +
    'sections elevation elevations view views jnts joint joints slope drain drains sewer water gas lighting lght power',
);

/** Name without the prefix that binding an external reference leaves (`file$0$NAME`) or shows (`file|NAME`). */
export const withoutXref = (name: string): string => name.replace(/^.*\$\d+\$/s, '').replace(/^.*\|/s, '');

/** Lower-case words of a name: parted by signs, digits and changes from small to capital letters. */
export const nameWords = (name: string): string[] =>
  withoutXref(name)
    .replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2')
    .toLowerCase()
    .split(/[^\p{L}\p{M}]+/u)
    .filter((w) => w !== '');

/** Endings by which compound words of Germanic languages give themselves away: kellerwand, buitenmuur, betonwände. */
const COMPOUND_WALL = /(wand|wände|waende|wanden|mauer|mauern|muur|muren|vägg|väggar|vegg)$/u;

export const layerKind = (name: string): LayerKind => {
  const list = nameWords(name);
  const has = (set: ReadonlySet<string>) => list.some((w) => set.has(w));
  const wall = has(WALL) || list.some((w) => COMPOUND_WALL.test(w) || w === 'stemwall' || w === 'stemwalls');
  if (has(NOT_WALL)) return 'other';
  if (has(FOOTING) && !wall) return 'footing';
  if (wall && (has(FOUNDATION) || has(STEM) || list.some((w) => /^(keller|kelder|fundament)/u.test(w))))
    return 'foundation-wall';
  if (has(FOOTING)) return 'footing';
  if (wall && list.length > 1 && list[0] === 's') return 'structural-wall';
  if (has(FOUNDATION)) return 'foundation';
  if (wall) return 'wall';
  return 'silent';
};

/** Does a pattern (`*` any run, `?` one character, case not heeded) match the name, with or without its xref prefix? */
export const matchesPattern = (pattern: string, name: string): boolean => {
  const fits = (p: string, s: string): boolean => {
    // Two-pointer wildcard match: linear in practice and never exponential, whatever the pattern.
    let i = 0;
    let j = 0;
    let star = -1;
    let mark = 0;
    while (j < s.length) {
      if (i < p.length && p[i] === '*') {
        star = i++;
        mark = j;
      } else if (i < p.length && (p[i] === '?' || p[i] === s[j])) {
        i++;
        j++;
      } else if (star >= 0) {
        i = star + 1;
        j = ++mark;
      } else return false;
    }
    while (p[i] === '*') i++;
    return i === p.length;
  };
  const p = pattern.toLowerCase();
  return fits(p, name.toLowerCase()) || fits(p, withoutXref(name).toLowerCase());
};
