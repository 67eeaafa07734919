import { byId } from "../dom.js";
import { frameAt, referenceRow } from "../tether.js";
import { createAgainst } from "../views/against.js";
import { createCompare } from "../views/compare.js";
import { createGuests } from "../views/guests.js";
import { createLight } from "../views/light.js";
import { createLog } from "../views/log.js";
import { createLook } from "../views/look.js";
import { createMarking } from "../views/marking.js";
import { createPatch } from "../views/patch.js";
import { createReleasing } from "../views/releasing.js";
import { createStrip } from "../views/strip.js";
import { createZoom } from "../views/zoom.js";

/** What a tether's page has beside what every page has. */
export function viewsOf({ ask, refused, look, choose, redraw, tones, byHand, missed }) {
  const marking = createMarking(
    ask,
    refused,
    {
      group: byId("marking"),
      keep: byId("mark-keep"),
      reject: byId("mark-reject"),
      note: byId("mark-note"),
      told: byId("note"),
      reference: byId("make-reference"),
      patch: byId("mark-patch"),
    },
    ({ tether }, { index }) => frameAt(tether, index),
  );
  return [
    ...byHand,
    missed.view,
    createReleasing(ask, refused, tones, missed.wantsSound),
    createLook(choose),
    createCompare(redraw),
    createZoom({
      stage: byId("stage"),
      sheet: byId("sheet"),
      image: byId("look-image"),
      closer: byId("closer"),
      farther: byId("farther"),
      beside: byId("beside"),
      films: [
        { film: byId("film"), detail: byId("look-detail"), rowOf: ({ tether }, { index }) => frameAt(tether, index) },
        { film: byId("beside-film"), detail: byId("beside-detail"), rowOf: ({ tether }) => referenceRow(tether) },
      ],
    }),
    createAgainst(redraw),
    createLight(redraw),
    marking.view,
    createPatch({ edit: (patch) => look({ patch }), choose, wish: marking.reference }),
    createGuests(),
    createStrip(choose, (filter) => look({ filter }), marking),
    createLog(byId("happened"), byId("happened-earlier")),
  ];
}
