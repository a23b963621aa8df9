/** The engine in the server, over REST. */
import { getStock, postAimed, postCall } from "../api/client";
import { postReplay, postReview, postServes } from "../api/matches";
import { getBook, postFormation } from "../api/opponents";
import { postChosen, postPrepared } from "../api/roster";
import type { Engine } from "./engine";

export const remote: Engine = { call: postCall, prepared: postPrepared, chosen: postChosen, aimed: postAimed, replay: postReplay, review: postReview, serves: postServes, formation: postFormation, book: getBook, stock: getStock };
