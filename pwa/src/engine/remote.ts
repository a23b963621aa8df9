/** The engine in the server, over REST. */
import { getStock, postAimed, postCall } from "../api/client";
import { postReplay, postReview } from "../api/matches";
import { postPrepared } from "../api/roster";
import type { Engine } from "./engine";

export const remote: Engine = { call: postCall, prepared: postPrepared, aimed: postAimed, replay: postReplay, review: postReview, stock: getStock };
