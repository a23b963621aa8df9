/** The engine in the server, over REST. */
import { getStock, postCall } from "../api/client";
import type { Engine } from "./engine";

export const remote: Engine = { call: postCall, stock: getStock };
