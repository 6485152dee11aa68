// What people do at the demo desk, by light circuits: sign in, copy an option, ask for searches, make links.
import { Circuit } from './circuit.mjs';
import { Session } from './session.mjs';
import { textOf, within } from './screen.mjs';

const password = 'kettle-on-fernhollow';

export const byName = name => screen => screen.first(element => element.get('name') === name);
export const button = text => screen => screen.first(element => element.name === 'button' && textOf(element) === text && element.get('disabled') === null && element.events.has('click'));

/** Revision whose numbers the workspace shows, or null before the first. */
export const revision = screen => {
  const shown = screen.first(element => element.has('headlines'));
  return shown === null ? null : Number(shown.get('data-revision'));
};

export async function signIn(address, email = 'robin@fernhollow.example.org') {
  const session = new Session(address);
  const page = await session.post('/sign-in', 'sign-in', { 'Input.Email': email, 'Input.Password': password });
  if (page.status !== 200 || page.path.endsWith('/sign-in')) {
    throw new Error(`${email} was not signed in.`);
  }

  return session;
}

/** Addresses of the demo's vans, and of one plan. */
export async function lookAround(session) {
  const link = pattern => element => element.name === 'a' && pattern.test(element.get('href') ?? '');
  const desk = await Circuit.open(session, '/', screen => screen.first(link(/^vans\/[0-9a-f-]{36}$/)) && screen.first(link(/^plans\/[0-9a-f-]{36}$/)));
  const vans = [...desk.screen.all(link(/^vans\/[0-9a-f-]{36}$/))].map(van => ({ path: '/' + van.get('href'), name: textOf(van) }));
  const plan = '/' + desk.screen.first(link(/^plans\/[0-9a-f-]{36}$/)).get('href');
  await desk.close();
  return { vans, plan };
}

/** The workspace on a copy of a van's option, which nobody else edits. */
export async function workspace(session, van, name) {
  const page = await Circuit.open(session, van, screen => revision(screen) !== null && button('Copy to a new option…')(screen));
  page.click(button('Copy to a new option…')(page.screen));
  const box = await page.until(byName('option-name'));
  page.enter(box, name);
  const dialog = screen => screen.first(element => element.get('role') === 'dialog');
  page.click([...within(dialog(page.screen), element => element.name === 'button')].at(-1));
  await page.until(screen => {
    const here = screen.first(element => element.get('aria-current') === 'page' && element.name === 'a' && textOf(element).includes(name));
    return here !== null && dialog(screen) === null && revision(screen) === 0;
  });
  return page;
}

/** Links to a plan; one link alone may be opened so many times a minute and no more. */
export async function newLinks(session, plan, count) {
  const page = await Circuit.open(session, plan, button('Make a new link'));
  const links = new Set();
  const shown = screen => screen.first(element => element.get('id') === 'new-link')?.get('value') ?? null;
  while (links.size < count) {
    page.click(await page.until(button('Make a new link')));
    links.add(await page.until(screen => shown(screen) !== null && !links.has(shown(screen)) && shown(screen)));
  }

  await page.close();
  return [...links];
}

const forWhom = screen => screen.first(element => element.name === 'input' && element.get('id') === 'ForWhom');

/** Somebody the owner invites. */
export async function join(owner, number) {
  const people = await Circuit.open(owner, '/people', forWhom);
  people.enter(forWhom(people.screen), `Consultant ${number}`);
  people.submit(people.screen.first(element => element.name === 'form' && element.has('invite')));
  const link = await people.until(screen => screen.first(element => element.get('id') === 'invitation-link')?.get('value'));
  await people.close();
  const session = new Session(owner.address);
  const page = await session.post(new URL(link).pathname, 'join', {
    'Input.OwnerName': `Consultant ${number}`, 'Input.Email': `consultant${number}@fernhollow.example.org`, 'Input.Password': password, 'Input.Again': password,
  });
  if (page.status !== 200 || page.path.includes('/join/')) {
    throw new Error(`Consultant ${number} could not join.`);
  }

  return session;
}

// One person may have three searches waiting or at work.
const perPerson = 3;

/**
 * Asks for searches of copies of a van: first as one consultant, then as people she invites. Their pages are closed; the searches go on.
 * @returns How many of them still wait or work, when asked.
 */
export async function askForSearches(owner, van, wanted) {
  const asked = [];
  for (let person = 0; asked.length < wanted; person++) {
    const session = person === 0 ? owner : await join(owner, person);
    for (let search = 0; search < perPerson && asked.length < wanted; search++) {
      const page = await workspace(session, van, `Search ${asked.length + 1}`);
      page.click(button('Designs')(page.screen));
      page.click(await page.until(button('Search the designs')));
      await page.until(button('Stop'));
      asked.push({ session, path: new URL(page.location).pathname });
      await page.close();
    }
  }

  return async () => {
    let going = 0;
    for (const { session, path } of asked) {
      const page = await Circuit.open(session, path, button('Designs'));
      page.click(button('Designs')(page.screen));
      await page.until(screen => button('Stop')(screen) ?? button('Search again')(screen) ?? button('Search the designs')(screen));
      going += button('Stop')(page.screen) === null ? 0 : 1;
      await page.close();
    }

    return going;
  };
}
