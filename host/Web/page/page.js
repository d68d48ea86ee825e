'use strict';
// Lays out what the program says. Nothing is worked out here, and nothing is asked of any other place.
const $ = id => document.getElementById(id);
const nice = text => text.replaceAll('+/-', '\u00b1');
const put = (element, text) => { text = nice(text); if (element.textContent !== text) element.textContent = text; };
const units = ['kg', 'lb', 'N'];
const where = { FL: 'front left', FR: 'front right', RL: 'rear left', RR: 'rear right' };
let unit = sessionStorage.getItem('unit') || '', view = null, guide = null, cue = null, newsSeen = null, spokenState = '', stream = null, heardAt = 0, audio = null, openedAt = 0, patience = 1500;

function make(tag, text, className) {
  const element = document.createElement(tag);
  if (text !== undefined) element.textContent = nice(text);
  if (className) element.className = className;
  return element;
}

function listen() {
  if (stream) stream.close();
  openedAt = performance.now();
  stream = new EventSource('/live' + (unit ? '?unit=' + unit : ''));
  const on = (name, act) => stream.addEventListener(name, event => { heard(); act(JSON.parse(event.data)); });
  on('hello', hello); on('view', show); on('still', () => {}); on('entries', showEntries); on('plan', showPlan); on('guide', showGuide);
}

function heard() {
  heardAt = performance.now();
  patience = 1500;
  if (!$('contact').hidden) { $('contact').hidden = true; say('Contact again.'); }
}

// The browser's own patience is longer than a person's: a stream that says nothing is begun anew, each time with more patience for a slow answer.
setInterval(() => {
  const now = performance.now();
  if (now - heardAt > 2500 && view) lose();
  if (now - heardAt > 2000 && now - openedAt > patience) { patience = Math.min(8000, patience * 2); listen(); why(); }
}, 500);
const wake = () => { if (document.visibilityState === 'visible' && performance.now() - heardAt > 1200) { patience = 1500; listen(); } keepAwake(); };
for (const name of ['visibilitychange', 'resume']) document.addEventListener(name, wake);
for (const name of ['focus', 'online', 'pageshow']) window.addEventListener(name, wake);

async function why() {
  try {
    const answer = await fetch('/mark.svg', { cache: 'no-store' });
    if (answer.status === 403) put($('contact'), await answer.text());
  } catch { put($('contact'), 'No contact with the computer. The figures are gone until it is back.'); }
}

function lose() {
  if (!view) return;
  view = null;
  $('contact').hidden = false;
  document.body.dataset.state = 'lost';
  put($('verdict'), 'NO CONTACT');
  for (const id of ['front', 'left', 'cross', 'rear', 'total-figure', 'doubt', 'cg', 'close-figure', 'close-state', 'close-stance', 'close-distance', 'peaks']) put($(id), '');
  for (const id of ['stances', 'warnings', 'troubles']) showList($(id), []);
  for (const wheel of document.querySelectorAll('.wheel')) { put(wheel.querySelector('b'), '--'); put(wheel.querySelector('.state'), 'not known'); wheel.dataset.state = 'not known'; }
  say('No contact with the computer.');
  sound('alarm');
}

const labels = { settled: 'SETTLED', moving: 'MOVING', 'too-noisy': 'TOO NOISY', 'not-known': 'NOT KNOWN', 'board-lost': 'BOARD LOST', away: 'WAIT', over: 'OVER' };

function show(now) {
  view = now;
  if (!unit) unit = now.unit;
  document.body.dataset.state = now.verdictKind;
  put($('vehicle'), now.vehicle);
  put($('time'), now.time);
  put($('verdict'), labels[now.verdictKind]);
  put($('unit'), now.unit);
  showText('alarm', now.alarm);
  showText('held', [now.frozen, now.tared].filter(text => text).join('. '));
  put($('freeze'), now.frozen ? 'Let go' : 'Freeze');
  showWheels(now);
  const corners = now.stations.length === 4 && now.stations[0].name === 'FL';
  put($('front'), corners ? 'front ' + now.front : '');
  put($('rear'), corners ? 'rear ' + now.rear : '');
  put($('left'), corners ? 'left ' + now.left : '');
  put($('cross'), corners ? 'cross (/) ' + now.cross : '');
  put($('total-figure'), now.total + ' ' + now.unit);
  put($('doubt'), now.doubt);
  put($('cg'), now.cg === '--' ? '' : 'centre of gravity ' + now.cg);
  showList($('stances'), now.stations.filter(wheel => wheel.stance).map(wheel => wheel.name + ': ' + wheel.stance));
  put($('peaks'), now.stations.every(wheel => wheel.peak === '--') ? '' : 'highest ' + now.stations.map(wheel => wheel.name + ' ' + wheel.peak).join('  ') + ' ' + now.unit);
  showList($('warnings'), now.warnings);
  showList($('troubles'), now.alarm ? now.troubles.filter(text => !now.alarm.includes(text)) : now.troubles);
  put($('take'), now.isTakeAwaited ? 'Waiting: hands off' : 'Take');
  $('take').classList.toggle('awaited', now.isTakeAwaited);
  showClose(now);
  showCells(now);
  if (newsSeen !== now.newsNumber) { put($('news'), now.news); if (newsSeen !== null && now.news) say(now.news); newsSeen = now.newsNumber; }
  if (cue !== now.cueNumber) { if (cue !== null) sound(now.cue); cue = now.cueNumber; }
  if (spokenState !== now.verdictKind) {
    spokenState = now.verdictKind;
    if (now.verdictKind === 'settled') say('Settled. ' + now.stations.map(wheel => wheel.where + ' ' + wheel.figure).join(', ') + (now.isOneDolly ? ' ' : ', total ' + now.total + ' ') + now.unit);
    else if (now.verdictKind !== 'moving' && !now.alarm) say(now.verdict);
  }
}

function showText(id, text) { $(id).hidden = !text; put($(id), text); }

function showWheels(now) {
  const box = $('wheels');
  if (box.querySelectorAll('.wheel').length !== now.stations.length) {
    for (const old of box.querySelectorAll('.wheel')) old.remove();
    box.classList.toggle('list', now.stations.length !== 4 || now.stations[0].name !== 'FL');
    now.stations.forEach((wheel, at) => {
      const button = make('button', undefined, 'wheel' + (at % 2 ? ' right' : ''));
      button.type = 'button';
      button.append(make('span', ''), make('b', ''), make('span', '', 'state'));
      button.addEventListener('click', () => goal(wheel.name, ''));
      box.insertBefore(button, now.stations.length === 4 ? $(at < 2 ? 'waist' : 'rear') : null);
    });
    if (!box.classList.contains('list')) box.prepend($('frame'), $('front'));
  }
  box.querySelectorAll('.wheel').forEach((button, at) => {
    const wheel = now.stations[at];
    put(button.children[0], wheel.name);
    put(button.children[1], wheel.figure);
    button.children[1].dataset.long = Math.min(7, wheel.figure.length);
    put(button.children[2], wheel.state + (wheel.tare ? ', ' + wheel.tare : ''));
    button.dataset.state = wheel.state;
    const label = wheel.where + ' ' + wheel.figure + ' ' + now.unit + ', ' + wheel.state + '. Show large.';
    if (wheel.state === 'settled' || button.dataset.said !== wheel.state) { button.setAttribute('aria-label', label); button.dataset.said = wheel.state; }
  });
}

function showClose(now) {
  const close = now.goal;
  $('close').hidden = !close;
  $('whole').hidden = !!close;
  document.body.classList.toggle('closely', !!close);
  if (!close) return;
  const wheel = now.stations.find(one => one.name === close.station);
  put($('close-name'), close.where);
  put($('close-figure'), wheel.figure);
  $('close-figure').dataset.long = Math.min(7, wheel.figure.length);
  put($('close-state'), now.unit + ', ' + wheel.state + (wheel.tare ? ', ' + wheel.tare : '') + (now.doubt ? '. ' + now.doubt : ''));
  put($('close-stance'), wheel.stance + (wheel.stance ? '. ' : '') + (wheel.peak === '--' ? '' : 'Highest ' + wheel.peak + ' ' + now.unit + '.'));
  $('close-back').hidden = now.isOneDolly;
  put($('close-distance'), close.target ? close.distance + ' (target ' + close.target + ')' : '');
}

function showList(list, texts) {
  if (list.dataset.text === texts.join('\n')) return;
  list.dataset.text = texts.join('\n');
  list.replaceChildren(...texts.map(text => make('li', text)));
}

function showCells(now) {
  showList($('boards'), now.boards);
  if (!$('cells').closest('details').open) return;
  $('cells').replaceChildren(...now.cells.map(cell => {
    const row = make('tr');
    for (const text of [cell.id, cell.station, cell.status, cell.load, cell.peak, cell.age, cell.rate, cell.counters]) row.append(make('td', text));
    return row;
  }));
}

function showEntries(entries) {
  $('history').replaceChildren(...entries.reverse().map(entry => {
    const item = make('li');
    item.append(make('strong', entry.number + ' ' + entry.kind + ' '), make('span', entry.time + '  ' + entry.text));
    if (entry.note) item.append(make('span', entry.note, 'note'));
    if (entry.record) item.append(make('span', 'kept as ' + entry.record, 'note'));
    return item;
  }));
}

function showPlan(plan) {
  const parsed = new DOMParser().parseFromString(plan.svg, 'image/svg+xml').documentElement;
  $('plan-part').hidden = parsed.localName !== 'svg';
  if (parsed.localName === 'svg') $('plan').replaceChildren(document.importNode(parsed, true));
}

function hello(first) {
  $('sound').hidden = !first.sound;
  if ($('guides').childElementCount) return;
  for (const one of first.guides) {
    const button = make('button', one.title, 'plain');
    button.type = 'button';
    button.dataset.guide = one.id;
    button.addEventListener('click', () => post('/guide', { start: one.id, unit, target: $('cross-target').value.trim() }));
    $('guides').append(button);
  }
}

function showGuide(now) {
  const before = guide;
  guide = now;
  $('guide').hidden = !now.title;
  document.body.classList.toggle('guided', !!now.title);
  if (!now.title) return;
  if (!before || !before.title) $('guide').scrollIntoView();
  put($('guide-title'), now.title);
  const question = now.question, lines = $('guide-lines');
  const told = question && now.lines.length && now.lines.at(-1).kind === 'asked' ? now.lines.slice(0, -1) : now.lines;
  lines.replaceChildren(...told.map(line => make('p', line.text, line.kind)));
  const isLong = showAllSinceAnswer(lines);
  $('guide-form').hidden = !question;
  $('guide-busy').hidden = !!question || !now.isRunning;
  put($('guide-leave'), now.isRunning ? 'Leave the guide' : 'Close');
  if (!question || (before && before.question && before.question.number === question.number)) return;
  put($('guide-question'), question.text);
  $('guide-answer').value = '';
  $('guide-answer').hidden = question.kind !== 'text';
  $('guide-send').hidden = question.kind !== 'text';
  $('guide-yes').hidden = $('guide-no').hidden = question.kind !== 'yes-no';
  $('guide-enter').hidden = !question.enter;
  put($('guide-enter'), question.enter);
  $('guide-loads').hidden = !question.wantsLoads;
  say(question.text);
  if (question.number === 1 || isLong) $('guide').scrollIntoView();
  const first = question.kind === 'text' ? $('guide-answer') : question.kind === 'yes-no' ? $('guide-yes') : $('guide-enter');
  if (document.activeElement === document.body || $('guide').contains(document.activeElement)) first.focus({ preventScroll: true });
}

// What was told since the last answer is an order to somebody at the car: none of it may stand outside the box.
function showAllSinceAnswer(lines) {
  lines.style.maxHeight = '';
  const fresh = [...lines.querySelectorAll('.answered')].at(-1), all = [...lines.children];
  const told = fresh ? all.slice(all.indexOf(fresh) + 1) : all;
  const height = told.length ? told.at(-1).getBoundingClientRect().bottom - told[0].getBoundingClientRect().top : 0;
  const isLong = height > lines.clientHeight - 12;
  if (isLong) lines.style.maxHeight = `${Math.ceil(height) + 24}px`;
  lines.scrollTop = lines.scrollHeight;
  return isLong;
}

async function post(path, body) {
  try {
    const answer = await fetch(path, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) });
    if (!answer.ok) { const text = (await answer.text()).trim(); put($('news'), text); say(text); }
    return answer.ok;
  } catch { put($('news'), 'Not done: no contact with the computer.'); return false; }
}

const act = (action, more) => post('/do', { action, unit, ...more });
const goal = (station, target) => act('goal', { station, target });
const answer = text => { if (guide && guide.question) post('/guide', { question: guide.question.number, answer: text }); };

for (const button of document.querySelectorAll('[data-do]')) button.addEventListener('click', () => act(button.dataset.do));
$('unit').addEventListener('click', () => { unit = units[(units.indexOf(unit) + 1) % units.length]; sessionStorage.setItem('unit', unit); listen(); });
$('close-back').addEventListener('click', () => goal('', ''));
$('close-form').addEventListener('submit', event => { event.preventDefault(); if (view && view.goal) goal(view.goal.station, $('close-target').value.trim()); });
$('mark-form').addEventListener('submit', event => { event.preventDefault(); act('mark', { note: $('mark-note').value }); $('mark-note').value = ''; });
$('guide-form').addEventListener('submit', event => { event.preventDefault(); answer($('guide-answer').value); });
$('guide-yes').addEventListener('click', () => answer('yes'));
$('guide-no').addEventListener('click', () => answer('no'));
$('guide-enter').addEventListener('click', () => answer(''));
$('guide-leave').addEventListener('click', () => post('/guide', { leave: true }));
$('guide-loads').addEventListener('click', () => {
  if (view && view.corners) { $('guide-answer').value = view.corners; answer(view.corners); } else put($('guide-question'), guide.question.text + '\nNot yet: not every wheel is known and still.');
});

document.addEventListener('keydown', event => {
  if (event.ctrlKey || event.metaKey || event.altKey || event.target.closest('input, button, summary, a')) return;
  const keys = { ' ': 'take', u: 'undo', z: 'zero', t: 'tare', f: 'freeze', p: 'peaks' };
  if (keys[event.key]) { event.preventDefault(); act(keys[event.key]); }
  else if (event.key === 'n') $('unit').click();
  else if (event.key === '0') goal('', '');
  else if (event.key >= '1' && event.key <= '9' && view && view.stations[event.key - 1]) goal(view.stations[event.key - 1].name, '');
});

function say(text) { $('spoken').textContent = nice(text); }

$('sound').addEventListener('click', () => {
  if (audio) { audio.close(); audio = null; } else { audio = new AudioContext(); sound('settled'); }
  put($('sound'), audio ? 'Sound: on' : 'Sound: off');
  $('sound').setAttribute('aria-pressed', String(!!audio));
});

function tone(hertz, at, length, shape) {
  const voice = audio.createOscillator(), loud = audio.createGain(), start = audio.currentTime + at;
  voice.type = shape; voice.frequency.value = hertz;
  loud.gain.setValueAtTime(0, start);
  loud.gain.linearRampToValueAtTime(.5, start + .02);
  loud.gain.setValueAtTime(.5, start + length - .03);
  loud.gain.linearRampToValueAtTime(0, start + length);
  voice.connect(loud).connect(audio.destination);
  voice.start(start); voice.stop(start + length);
}

function sound(kind) {
  if (!audio || kind === 'none') return;
  if (kind === 'settled') { tone(660, 0, .16, 'sine'); tone(990, .18, .3, 'sine'); }
  else for (let pulse = 0; pulse < 3; pulse++) { tone(196, pulse * .4, .25, 'square'); tone(208, pulse * .4, .25, 'square'); }
}

async function keepAwake() {
  if (!('wakeLock' in navigator)) return;
  try { await navigator.wakeLock.request('screen'); put($('awake'), 'This page keeps it on while it is in front.'); } catch { /* the phone saves its battery: the words on the page say what to do */ }
}

// Take stays in reach of the thumb only where that leaves room for what is taken: not with large text, not while a field is filled in.
const fit = () => document.body.classList.toggle('roomy', $('actions').offsetHeight < innerHeight * .25 && $('close').hidden);
new ResizeObserver(fit).observe($('actions'));
new ResizeObserver(fit).observe($('close'));
window.addEventListener('resize', fit);

listen();
keepAwake();
