/** The engine in the server, over REST. */
import { getStock, postAimed, postCall } from "../api/client";
import { postReplay, postReview } from "../api/matches";
import { getBook, postFormation } from "../api/opponents";
import { postHers, postPrepared } from "../api/roster";
import type { Engine } from "./engine";

export const remote: Engine = { call: postCall, prepared: postPrepared, hers: postHers, aimed: postAimed, replay: postReplay, review: postReview, formation: postFormation, book: getBook, stock: getStock };
