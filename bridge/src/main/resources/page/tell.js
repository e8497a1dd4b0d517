// What the pages ask of the daemon.
// In: a sentence, a name, a PIN. Out: its answer; where there is none, an answer that says so.

export const me = {role: 'viewer'};

export const plan = () => get('/api/plan');
export const way = (from, to) => get('/api/way', {from, to});
export const why = name => get('/api/why', {name});
export const notes = place => get('/api/notes', {place});

// For the owner's page
export const nodes = () => get('/api/nodes');
export const events = after => get('/api/events', {after});
export const diary = since => get('/api/diary', {since});
export const found = find => get('/api/news', {find});
export const journal = asked => get('/api/journal', asked);
export const rules = () => get('/api/rules');
export const reloading = () => get('/api/reload');

/** Has layout and rules read again: 'try', 'apply', 'wait 60' or 'cancel'. */
export async function reload(wish) {
  return ask('/api/reload', {
    method: 'POST', body: wish, headers: {'Content-Type': 'text/plain', 'X-Tappet': me.token ?? ''},
  });
}

/** Tells one sentence. The answer is one of done, refused, not understood, unknown, busy, not allowed. */
export async function tell(sentence) {
  return ask('/api/tell', {
    method: 'POST', body: sentence, headers: {'Content-Type': 'text/plain', 'X-Tappet': me.token ?? ''},
  });
}

/** Whether anybody answers. */
export const answers = async () => !(await get('/api/me')).answer;

/** Who this page may act as, kept in `me`. */
export async function recall() {
  return become(await get('/api/me'));
}

export async function enter(fields) {
  const answer = await ask('/api/enter', {method: 'POST', body: new URLSearchParams(fields)});
  return answer.role ? become(answer) : answer;
}

/** Takes a territory instead of the one this dispatcher has; '' is the whole railroad. */
export async function takeTerritory(territory) {
  const answer = await ask('/api/territory', {
    method: 'POST', body: territory, headers: {'Content-Type': 'text/plain', 'X-Tappet': me.token ?? ''},
  });
  return answer.role ? become(answer) : answer;
}

export async function leave() {
  await ask('/api/leave', {method: 'POST', headers: {'X-Tappet': me.token ?? ''}});
  return recall();
}

export const commands = () => me.role === 'dispatcher' || me.role === 'owner';

function become(now) {
  for (const key of Object.keys(me)) delete me[key];
  return Object.assign(me, {role: 'viewer'}, now);
}

const get = (path, query) => ask(path + (query ? '?' + new URLSearchParams(query) : ''), {});

async function ask(path, options) {
  try {
    const response = await fetch(path, {credentials: 'same-origin', ...options});
    if (response.ok) return await response.json();
    return {...unanswered(response.status), ...await response.json().catch(() => ({}))};
  } catch {
    return {answer: 'unknown', text: 'the daemon was not heard; it may or may not have been done'};
  }
}

// Only what was asked wrongly is sure not to have been done.
const unanswered = status => status < 500 ? {answer: 'refused', text: `the daemon says ${status}`}
  : {answer: 'unknown', text: `the daemon says ${status}; it may or may not have been done`};
