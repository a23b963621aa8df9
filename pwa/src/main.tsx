import { render } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { askWhenBack } from "./actions/ask";
import { wake } from "./actions/memory";
import { followHistory, place, type Route } from "./actions/route";
import { state } from "./actions/state";
import { useStore } from "./store/store";
import "./style/tokens.css";
import "./style/base.css";
import "./style/court.css";
import "./style/parts.css";
import "./style/views.css";
import { CallView } from "./views/CallView";
import { CompareView } from "./views/CompareView";
import { ServerView } from "./views/ServerView";

const TITLES: Record<Route, string> = { "/": "Cornerwise", "/server": "Server view · Cornerwise", "/compare": "Two spots · Cornerwise" };

function App() {
  const now = useStore(state);
  const { route } = useStore(place);
  const first = useRef(true);
  useEffect(() => {
    document.title = TITLES[route];
    if (!first.current) {
      scrollTo(0, 0);
      document.querySelector<HTMLElement>("h1")?.focus();
    }
    first.current = false;
  }, [route]);
  if (!now.awake) return null;
  if (route === "/server") return <ServerView now={now} />;
  if (route === "/compare") return <CompareView now={now} />;
  return <CallView now={now} />;
}

followHistory();
askWhenBack();
void wake();
render(<App />, document.getElementById("app") as HTMLElement);
