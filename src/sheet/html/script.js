// What paper cannot: a clock that rings at the looks, and boxes that stay ticked. The page is
// whole without it.
(function () {
  'use strict';
  var sheet = 'restbite ' + document.body.getAttribute('data-sheet');
  var by = function (id) { return document.getElementById(id); };
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
  each('.found input', function (field) {
    if (typeof state.notes[field.id] === 'string') { field.value = state.notes[field.id]; }
    field.addEventListener('input', function () { state.notes[field.id] = field.value; keep(); });
  });

  var clock = by('clock');
  if (!clock) { return; }
  var title = document.title;
  var button = by('switch');
  var looks = [];
  each('tr[data-at]', function (row) {
    looks.push({ at: Number(row.getAttribute('data-at')), last: row.getAttribute('data-last') === 'yes',
      name: row.querySelector('th').textContent, depth: row.cells[2].firstChild.textContent, row: row });
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
    by('ring').textContent = text;
    beep();
    var touched = !navigator.userActivation || navigator.userActivation.hasBeenActive;
    try { if (navigator.vibrate && touched) { navigator.vibrate([300, 150, 300]); } } catch (error) { /* still */ }
  };
  var quiet = function () { by('ring').textContent = ''; document.title = title; };

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
    by('run').textContent = shown(t);
    by('next').textContent = next ?
      (next.last ? 'Stop at ' : 'Next look at ') + next.name + ', in ' + spoken(next.at - t) : (looks.length ? 'No look left: stop.' : '');
    button.textContent = live ? 'Current off' : (state.begun ? 'Current on again' : 'Current on');
    rests(live);
    if (by('ring').textContent) {
      document.title = document.title === title ? '! ' + by('ring').textContent : title;
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
  by('anew').addEventListener('click', function () {
    if (!window.confirm('Clear the clock, the ticks and what was found?')) { return; }
    state = { ticks: {}, notes: {}, ran: 0, since: null, switched: null, rung: [], begun: false };
    try { localStorage.removeItem(sheet); } catch (error) { /* nothing kept */ }
    each('input[type=checkbox]', function (box) { box.checked = false; });
    each('.found input', function (field) { field.value = ''; });
    each('tr.due', function (row) { row.className = ''; });
    quiet();
    draw();
  });
  // A page loaded again may sound only once it has been touched again.
  if (state.since !== null) { document.addEventListener('pointerdown', wake, { once: true }); }
  draw();
  setInterval(draw, 500);
}());
