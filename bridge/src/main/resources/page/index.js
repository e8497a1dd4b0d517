// The doors to the pages, under the railroad's own name.

import {plan} from './tell.js';
import {applyLight} from './daynight.js';

applyLight();
const {name} = await plan();
if (name) {
  document.title = name;
  document.querySelector('#railroad').textContent = name;
}
