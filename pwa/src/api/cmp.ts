import type * as N from "./types"; import type * as O from "./old";
const ok = <A, B>(_: A extends B ? true : never): void => undefined;
ok<N.CallAnswer, O.CallAnswer>(true); ok<N.Stock, O.Stock>(true); ok<O.CallRequest, N.CallRequest>(true);
ok<N.Call["target"]["zone"], O.Position>(true);ok<O.Position,N.Call["target"]["zone"]>(true);
ok<N.Level,O.Level>(true);ok<O.Level,N.Level>(true);ok<N.Kind,O.Kind>(true);ok<O.Kind,N.Kind>(true);
ok<N.Formation,O.Formation>(true);ok<O.Formation,N.Formation>(true);ok<N.System,O.System>(true);ok<O.System,N.System>(true);
ok<N.SpotName,O.SpotName>(true);ok<O.SpotName,N.SpotName>(true);ok<N.Player["position"],O.Position|null>(true);ok<O.Position|null,N.Player["position"]>(true);
ok<N.PasserAsked,O.PasserAsked>(true);ok<O.PasserAsked,N.PasserAsked>(true);ok<N.DragModel,O.DragModel>(true);
