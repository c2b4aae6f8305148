/**
 * The page's one script: the plan can be made larger and smaller, pushed about, and brings a finding's triangle into sight. Without it the page is whole: the
 * plan scrolls in its frame, and links lead to their places. It asks nothing of anybody; the page's policy lets this text run and no other.
 */

/** Its SHA-256 in base64, for the policy; a test works it out again. */
export const SCRIPT_DIGEST = '+JM4qIv8Ni8gnt/B7TvzCsGcbvkqgV92tgV+qsJTtsk=';

export const SCRIPT = `
(function () {
  'use strict';
  var frame = document.querySelector('#plan .sheet');
  var svg = frame && frame.querySelector('svg');
  if (!svg) return;
  var least = 0.25, most = 12, zoom = 1;
  var whole = function () { return Math.min(1, (frame.clientWidth - 18) / Number(svg.getAttribute('width'))); };
  var set = function (to, x, y) {
    var box = frame.getBoundingClientRect();
    var px = x === undefined ? frame.clientWidth / 2 : x - box.left;
    var py = y === undefined ? frame.clientHeight / 2 : y - box.top;
    var next = Math.max(least, Math.min(most, to));
    var share = next / zoom;
    var left = (frame.scrollLeft + px) * share - px, top = (frame.scrollTop + py) * share - py;
    zoom = next;
    svg.style.width = Number(svg.getAttribute('width')) * zoom + 'px';
    svg.style.minWidth = '0';
    svg.style.maxWidth = 'none';
    frame.scrollLeft = left;
    frame.scrollTop = top;
    said.textContent = Math.round(zoom * 100) + ' %';
  };
  var bar = document.createElement('div');
  bar.className = 'tools';
  bar.setAttribute('role', 'toolbar');
  bar.setAttribute('aria-label', 'Size of the plan');
  var said = document.createElement('span');
  said.setAttribute('aria-live', 'polite');
  [['Larger', '+', function () { set(zoom * 1.4); }], ['Smaller', '\\u2212', function () { set(zoom / 1.4); }],
    ['Whole plan', 'Whole', function () { set(whole()); }]].forEach(function (tool) {
    var button = document.createElement('button');
    button.type = 'button';
    button.textContent = tool[1];
    button.setAttribute('aria-label', tool[0]);
    button.addEventListener('click', tool[2]);
    bar.appendChild(button);
  });
  bar.appendChild(said);
  frame.parentNode.insertBefore(bar, frame);
  frame.classList.add('zooms');
  set(whole());
  frame.addEventListener('keydown', function (e) {
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    if (e.key === '+' || e.key === '=') set(zoom * 1.4);
    else if (e.key === '-') set(zoom / 1.4);
    else if (e.key === '0') set(whole());
    else return;
    e.preventDefault();
  });
  frame.addEventListener('wheel', function (e) {
    if (!e.ctrlKey) return;
    e.preventDefault();
    set(zoom * Math.exp(-e.deltaY / 300), e.clientX, e.clientY);
  }, { passive: false });
  var held = null;
  frame.addEventListener('pointerdown', function (e) {
    if (e.pointerType !== 'mouse' || e.button !== 0) return;
    held = { x: e.clientX, y: e.clientY, left: frame.scrollLeft, top: frame.scrollTop };
  });
  window.addEventListener('pointermove', function (e) {
    if (!held) return;
    frame.scrollLeft = held.left + held.x - e.clientX;
    frame.scrollTop = held.top + held.y - e.clientY;
  });
  window.addEventListener('pointerup', function () { held = null; });
  svg.addEventListener('dragstart', function (e) { e.preventDefault(); });
  var spread = null;
  var gap = function (t) { return Math.hypot(t[0].clientX - t[1].clientX, t[0].clientY - t[1].clientY); };
  frame.addEventListener('touchstart', function (e) { spread = e.touches.length === 2 ? gap(e.touches) : null; }, { passive: true });
  frame.addEventListener('touchmove', function (e) {
    if (e.touches.length !== 2 || !spread) return;
    e.preventDefault();
    var now = gap(e.touches);
    set(zoom * now / spread, (e.touches[0].clientX + e.touches[1].clientX) / 2, (e.touches[0].clientY + e.touches[1].clientY) / 2);
    spread = now;
  }, { passive: false });
  var show = function () {
    var mark = location.hash.length > 1 && document.getElementById(location.hash.slice(1));
    if (!mark || !svg.contains(mark)) return;
    if (zoom < 1) set(1);
    frame.scrollIntoView({ block: 'center' });
    var box = frame.getBoundingClientRect(), at = mark.getBoundingClientRect();
    frame.scrollLeft += at.left + at.width / 2 - box.left - box.width / 2;
    frame.scrollTop += at.top + at.height / 2 - box.top - box.height / 2;
    mark.focus({ preventScroll: true });
  };
  window.addEventListener('hashchange', show);
  document.addEventListener('click', function (e) {
    var link = e.target.closest && e.target.closest('a[href^="#mark-"]');
    if (link && link.getAttribute('href') === location.hash) show();
  });
  show();
})();
`;
