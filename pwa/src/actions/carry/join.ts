/** A short code to type, where both phones reach the same server. */
import { getCode, postJoin } from "../../api/matches";
import { Refused } from "../../api/problem";
import { go, matchPath } from "../route";

/** Returns the code of a match, "" where the server cannot be reached. */
export const joinCode = (id: string): Promise<string> => getCode(id).then(({ code }) => code, () => "");

/** Opens the match of a typed code; returns why not, in a sentence. */
export async function join(typed: string): Promise<string> {
  const code = typed.replace(/[\s-]/g, "");
  if (!/^[0-9a-z]{6}$/i.test(code)) return `A code has six letters or digits, like 7KM 2QX. You typed ${code.length === 0 ? "nothing" : `“${typed.trim()}”`}.`;
  try {
    const { id } = await postJoin(code);
    go(matchPath(id));
    return "";
  } catch (problem) {
    if (!(problem instanceof Refused)) return "The server cannot be reached. Without it a match comes by scanning or as a file.";
    return problem.status === 404 ? "No match has this code now. A code is good for an hour: look at the other phone again." : problem.message;
  }
}
