/** The engine in the server, over REST. */
import { getStock, postCall } from "../api/client";
import { postReplay } from "../api/matches";
import type { Engine } from "./engine";

export const remote: Engine = { call: postCall, replay: postReplay, stock: getStock };
