/** Made by pwa/scripts/event_fields.py from the engine's shapes: do not edit. */

export interface Fields { readonly required: readonly string[]; readonly optional: readonly string[] }

export const EVENT_FIELDS: Readonly<Record<string, Fields>> = {
  "match_opened": {"required": ["id", "device", "counter", "set_number", "rally_number", "type"], "optional": ["seen", "profile", "us", "them", "level"]},
  "set_started": {"required": ["id", "device", "counter", "set_number", "rally_number", "type", "serving_first"], "optional": ["seen", "us", "them"]},
  "call_shown": {"required": ["id", "device", "counter", "set_number", "rally_number", "type", "spot", "target", "kind"], "optional": ["seen", "speed_m_s", "keep", "p_error", "p_ace", "grades"]},
  "server_seen": {"required": ["id", "device", "counter", "set_number", "rally_number", "type", "side", "number"], "optional": ["seen"]},
  "reception_formation_seen": {"required": ["id", "device", "counter", "set_number", "rally_number", "type", "side", "formation"], "optional": ["seen", "passers"]},
  "pass_graded": {"required": ["id", "device", "counter", "set_number", "rally_number", "type", "grade"], "optional": ["seen", "grade", "error", "first_ball", "passer", "landing", "spot", "kind", "speed_m_s"]},
  "serve_noted": {"required": ["id", "device", "counter", "set_number", "rally_number", "type"], "optional": ["seen", "grade", "error", "first_ball", "passer", "landing", "spot", "kind", "speed_m_s"]},
  "rally_won": {"required": ["id", "device", "counter", "set_number", "rally_number", "type", "winner"], "optional": ["seen", "ending", "grade", "error", "first_ball", "passer", "landing", "spot", "kind", "speed_m_s"]},
  "rally_replayed": {"required": ["id", "device", "counter", "set_number", "rally_number", "type"], "optional": ["seen", "reason"]},
  "substituted": {"required": ["id", "device", "counter", "set_number", "rally_number", "type", "side", "enters"], "optional": ["seen", "leaves", "position"]},
  "exceptionally_substituted": {"required": ["id", "device", "counter", "set_number", "rally_number", "type", "side", "enters"], "optional": ["seen", "leaves", "position"]},
  "libero_replaced": {"required": ["id", "device", "counter", "set_number", "rally_number", "type", "side"], "optional": ["seen", "enters", "leaves", "position"]},
  "time_out_taken": {"required": ["id", "device", "counter", "set_number", "rally_number", "type", "side"], "optional": ["seen"]},
  "penalty_point_given": {"required": ["id", "device", "counter", "set_number", "rally_number", "type", "to", "rotation"], "optional": ["seen", "reason", "number"]},
  "lineup_corrected": {"required": ["id", "device", "counter", "set_number", "rally_number", "type", "side"], "optional": ["seen", "lineup", "liberos", "setters", "setter_position", "system", "rotate"]},
  "score_corrected": {"required": ["id", "device", "counter", "set_number", "rally_number", "type", "us", "them"], "optional": ["seen", "sets"]},
  "server_corrected": {"required": ["id", "device", "counter", "set_number", "rally_number", "type", "side"], "optional": ["seen", "number"]},
  "wrong_server_called": {"required": ["id", "device", "counter", "set_number", "rally_number", "type", "side", "found"], "optional": ["seen", "from_rally", "right_server"]},
  "sides_changed": {"required": ["id", "device", "counter", "set_number", "rally_number", "type"], "optional": ["seen"]},
  "expelled": {"required": ["id", "device", "counter", "set_number", "rally_number", "type", "side"], "optional": ["seen", "number"]},
  "disqualified": {"required": ["id", "device", "counter", "set_number", "rally_number", "type", "side"], "optional": ["seen", "number"]},
  "set_ended": {"required": ["id", "device", "counter", "set_number", "rally_number", "type"], "optional": ["seen", "winner"]},
  "match_ended": {"required": ["id", "device", "counter", "set_number", "rally_number", "type"], "optional": ["seen"]},
  "match_abandoned": {"required": ["id", "device", "counter", "set_number", "rally_number", "type"], "optional": ["seen", "reason"]},
  "forfeited": {"required": ["id", "device", "counter", "set_number", "rally_number", "type", "side", "scope", "how"], "optional": ["seen"]},
  "retracted": {"required": ["id", "device", "counter", "set_number", "rally_number", "type", "event_id"], "optional": ["seen"]},
};
