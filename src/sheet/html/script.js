// What paper cannot: a clock that rings at the looks, and boxes that stay ticked. The page is
// whole without it.
(function () {
  'use strict';
  var sheet = 'restbite ' + document.body.getAttribute('data-sheet');
  var by_id = function (id) { return document.getElementById(id); };
  var each = function (query, work) { Array.prototype.forEach.call(document.querySelectorAll(query), work); };

  // Storage may be forbidden, full or gone: then the sheet forgets, and no more.
  var state = { ticks: {}, notes: {}, ran: 0, since: null, switched: null, rung: [], begun: false };
  try {
    var kept = JSON.parse(localStorage.getItem(sheet));
    if (kept) { Object.keys(state).forEach(function (key) { if (key in kept) { state[key] = kept[key]; } }); }
  } catch (error) { /* nothing kept */ }
  var keep = function () {
    try { localStorage.setItem(sheet, JSON.stringify(state)); } catch (error) { /* not kept */ }
  };

  each('input[type=checkbox]', function (box) {
    box.checked = state.ticks[box.id] === true;
    box.addEventListener('change', function () { state.ticks[box.id] = box.checked; keep(); });
  });
  var correct = function () {};
  each('.found input', function (field) {
    if (typeof state.notes[field.id] === 'string') { field.value = state.notes[field.id]; }
    field.addEventListener('input', function () { state.notes[field.id] = field.value; keep(); correct(); });
  });

  var clock = by_id('clock');
  if (!clock) { return; }
  var title = document.title;
  var button = by_id('switch');
  var looks = [];
  each('tr[data-at]', function (row) {
    looks.push({ at: Number(row.getAttribute('data-at')), last: row.getAttribute('data-last') === 'yes',
      name: row.querySelector('th').textContent, depth: row.cells[2].firstChild.textContent, row: row });
    var look = looks[looks.length - 1];
    look.planned = { at: look.at, name: look.name, depth: look.depth };
  });
  var on = Number(clock.getAttribute('data-on')) || 0;
  var off = Number(clock.getAttribute('data-off')) || 0;
  clock.hidden = false;

  var sound = null;
  var wake = function () {
    try {
      var Sound = window.AudioContext || window.webkitAudioContext;
      if (Sound) { sound = sound || new Sound(); if (sound.state === 'suspended') { sound.resume(); } }
    } catch (error) { sound = null; }
    try {
      if (navigator.wakeLock) { navigator.wakeLock.request('screen').catch(function () {}); }
    } catch (error) { /* the screen may go dark */ }
  };
  var beep = function () {
    if (!sound) { return; }
    try {
      [0, 0.35, 0.7].forEach(function (after) {
        var tone = sound.createOscillator(), loud = sound.createGain(), from = sound.currentTime + after;
        tone.frequency.value = 880;
        loud.gain.setValueAtTime(0.4, from);
        loud.gain.exponentialRampToValueAtTime(0.001, from + 0.25);
        tone.connect(loud); loud.connect(sound.destination);
        tone.start(from); tone.stop(from + 0.26);
      });
    } catch (error) { /* silent */ }
  };
  var ring = function (text) {
    by_id('ring').textContent = text;
    beep();
    var touched = !navigator.userActivation || navigator.userActivation.hasBeenActive;
    try { if (navigator.vibrate && touched) { navigator.vibrate([300, 150, 300]); } } catch (error) { /* still */ }
  };
  var quiet = function () { by_id('ring').textContent = ''; document.title = title; };

  var ran = function () { return (state.ran + (state.since === null ? 0 : Date.now() - state.since)) / 1000; };
  var spoken = function (s) {
    s = Math.max(0, Math.ceil(s));
    var m = Math.floor(s / 60), rest = s % 60;
    return (m ? m + ' min ' : '') + (rest || !m ? rest + ' s' : '');
  };
  var shown = function (s) {
    s = Math.floor(s);
    var h = Math.floor(s / 3600), m = Math.floor(s / 60) % 60, two = function (n) { return (n > 9 ? '' : '0') + n; };
    return (h ? h + ':' + two(m) : String(m)) + ':' + two(s % 60);
  };

  // What was found corrects the looks to come: depth and current over time are carried as logarithms
  // with their slopes along a few unknowns, each a standard normal until something is read.
  var live = null, unit = clock.getAttribute('data-unit');
  try { live = JSON.parse(clock.getAttribute('data-live')); } catch (error) { live = null; }
  var LENGTHS = { mm: 1e-3, um: 1e-6, 'in': 0.0254, '"': 0.0254, thou: 2.54e-5 };
  var AMPS = { a: 1, ma: 1e-3 };
  var read = function (text, units, plain) {
    var found = /^\s*([0-9]*[.,]?[0-9]+)\s*([a-z"]*)\s*$/i.exec(text);
    if (!found) { return null; }
    var scale = units[found[2] ? found[2].toLowerCase() : plain], value = Number(found[1].replace(',', '.'));
    return scale && value > 0 ? value * scale : null;
  };
  var dot = function (a, b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; };
  var by = function (p, h) { return p.map(function (row) { return dot(row, h); }); };
  var between = function (list, t) {
    var n = 1;
    while (n < live.t.length - 1 && live.t[n] < t) { n += 1; }
    var low = Math.log(live.t[n - 1]), high = Math.log(live.t[n]);
    var share = Math.min(1, Math.max(-1, (Math.log(Math.max(1, t)) - low) / (high - low)));
    return list[n - 1].map(function (a, k) { return a + share * (list[n][k] - a); });
  };
  var known = function (readings) {
    var x = [0, 0, 0], p = [[1, 0, 0], [0, 1, 0], [0, 0, 1]];
    readings.forEach(function (one) {
      var at = between(live[one.what], one.t), h = at.slice(1, 4);
      var sd = Math.hypot(one.share, one.least / one.value), ph = by(p, h);
      var all = dot(h, ph) + sd * sd + Math.max(0, at[4]);
      var off = Math.log(one.value) - at[0] - dot(h, x);
      x = x.map(function (v, k) { return v + ph[k] / all * off; });
      p = p.map(function (row, i) { return row.map(function (v, j) { return v - ph[i] * ph[j] / all; }); });
    });
    return { x: x, p: p };
  };
  var deep = function (k, point, z) {
    var h = point.slice(1, 4), spread = Math.max(0, dot(h, by(k.p, h)) + point[4]);
    return point[0] + dot(h, k.x) + z * Math.sqrt(spread);
  };
  // When the depth of which `goal` is the logarithm is reached, z standard deviations off the middle.
  var when = function (k, goal, z) {
    for (var n = 0; n < live.t.length; n += 1) {
      var high = deep(k, live.depth[n], z);
      if (high >= goal) {
        if (n === 0) { return live.t[0]; }
        var low = deep(k, live.depth[n - 1], z), a = Math.log(live.t[n - 1]), b = Math.log(live.t[n]);
        return Math.exp(a + (b - a) * (goal - low) / (high - low));
      }
    }
    return null;
  };
  var TENTH = 1.2815515655446;
  var rounded = function (s) { return spoken(Math.round(s / 30) * 30); };
  correct = function () {
    if (!live) { return; }
    var readings = [], last = 0;
    var amps = by_id('found-amps'), value = amps && read(amps.value, AMPS, 'a');
    if (value) { readings.push({ what: 'amps', t: Number(amps.getAttribute('data-amps')), value: value, share: 0.02, least: 0.01 }); }
    looks.forEach(function (look) {
      var depth = read(look.row.querySelector('.found input').value, LENGTHS, unit);
      if (depth) {
        readings.push({ what: 'depth', t: look.at, value: depth, share: 0, least: 2e-5 });
        last = Math.max(last, look.at);
        look.read = true;
      } else { look.read = false; }
    });
    readings.sort(function (a, b) { return a.t - b.t; });
    var before = known([]), now = known(readings), target = Math.log(live.target);
    var stop = when(now, target, 0), early = when(now, target, TENTH), late = when(now, target, -TENTH);
    var line = by_id('corrected');
    line.textContent = !readings.length ? '' : stop === null ? 'By what you found it does not come to its depth in twice the time.' :
      'By what you found: stop after about ' + rounded(stop) + (early && late ? ' (' + rounded(early) + ' to ' + rounded(late) + ').' : '.');
    var from = last;
    looks.forEach(function (look) {
      if (look.read) { return; }
      var at = look.planned.at;
      if (readings.length && stop !== null) {
        // As deep in the fast case as it was planned for this look.
        at = look.last ? stop : when(now, deep(before, between(live.depth, look.planned.at), TENTH), TENTH) || at;
        at = Math.max(last + 30, look.last ? at : Math.min(at, from + 900));
        from = at;
      }
      look.row.hidden = !look.last && stop !== null && readings.length > 0 && at >= stop;
      if (Math.abs(at - look.at) < 1) { return; }
      var same = at === look.planned.at, m = Math.exp(deep(now, between(live.depth, at), 0));
      look.at = at;
      look.name = same ? look.planned.name : rounded(at);
      look.depth = same ? look.planned.depth : unit === 'in' ? (m / 2.54e-5).toPrecision(2) + ' thou' : (m * 1e3).toPrecision(2) + ' mm';
      look.row.querySelector('th').textContent = look.name;
      look.row.cells[2].firstChild.textContent = look.depth;
    });
    draw();
  };

  var draw = function () {
    var t = ran(), live = state.since !== null, due = null, next = null;
    looks.forEach(function (look, n) {
      if (look.at > t) { next = next || look; return; }
      if (state.rung.indexOf(n) !== -1) { return; }
      state.rung.push(n);
      due = look;
      look.row.className = 'due';
    });
    if (due) {
      ring(due.last ? 'Stop: ' + due.name + '. Current off; deep enough?' :
        'Look now: ' + due.name + '. Current off; about ' + due.depth + '?');
      keep();
    }
    by_id('run').textContent = shown(t);
    by_id('next').textContent = next ?
      (next.last ? 'Stop at ' : 'Next look at ') + next.name + ', in ' + spoken(next.at - t) : (looks.length ? 'No look left: stop.' : '');
    button.textContent = live ? 'Current off' : (state.begun ? 'Current on again' : 'Current on');
    rests(live);
    if (by_id('ring').textContent) {
      document.title = document.title === title ? '! ' + by_id('ring').textContent : title;
    }
  };
  // On and off in turn, where the cells ask for it.
  var told = false;
  var rests = function (live) {
    if (!on || !state.begun || told || state.switched === null) { return; }
    var leg = (Date.now() - state.switched) / 1000;
    if (live) {
      if (leg >= on) { told = true; ring('Rest: current off for ' + spoken(off) + '.'); }
    } else if (leg >= off) { told = true; ring('Rested: current on again.'); }
  };

  button.addEventListener('click', function () {
    wake();
    var now = Date.now();
    if (state.since === null) { state.since = now; } else { state.ran += now - state.since; state.since = null; }
    state.switched = now;
    state.begun = true;
    told = false;
    quiet();
    each('tr.due', function (row) { row.className = ''; });
    keep();
    draw();
  });
  by_id('anew').addEventListener('click', function () {
    if (!window.confirm('Clear the clock, the ticks and what was found?')) { return; }
    state = { ticks: {}, notes: {}, ran: 0, since: null, switched: null, rung: [], begun: false };
    try { localStorage.removeItem(sheet); } catch (error) { /* nothing kept */ }
    each('input[type=checkbox]', function (box) { box.checked = false; });
    each('.found input', function (field) { field.value = ''; });
    correct();
    each('tr.due', function (row) { row.className = ''; });
    quiet();
    draw();
  });
  // A page loaded again may sound only once it has been touched again.
  if (state.since !== null) { document.addEventListener('pointerdown', wake, { once: true }); }
  draw();
  correct();
  setInterval(draw, 500);
}());
