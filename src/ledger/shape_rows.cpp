#include "ledger/shape_rows.hpp"

#include "base/words.hpp"
#include "ledger/rows.hpp"
#include "wording/say.hpp"

namespace platewright::ledger {
namespace {

using FlexWord = base::Word<FlexKind, wording::Phrase>;

constexpr std::array k_flex_words{
    FlexWord{FlexKind::lengthwise, "lengthwise", "lengthwise"},
    FlexWord{FlexKind::crosswise, "crosswise", "crosswise"},
    FlexWord{FlexKind::twist, "twist", "twist"},
};

using ThingWord = base::Word<LaidThing, wording::Phrase>;

constexpr std::array k_thing_words{
    ThingWord{LaidThing::putty, "putty", "putty"},
    ThingWord{LaidThing::magnets, "magnets", "a pair of magnets"},
};

plate::Point read_point(Statement& row) {
    plate::Point p;
    p.x_mm = row.real();
    p.y_mm = row.real();
    return p;
}

void read_outline(Database& database, Id form, FormRecord& record) {
    Statement rim{database, "SELECT x_mm, y_mm FROM form_rim WHERE form = ? ORDER BY place"};
    rim.bind_all(form);
    while (rim.step())
        record.rim.push_back(read_point(rim));
    Statement heights{
        database, "SELECT x_mm, y_mm, height_mm FROM form_height WHERE form = ? ORDER BY place"};
    heights.bind_all(form);
    while (heights.step()) {
        plate::HeightReading reading;
        reading.at = read_point(heights);
        reading.height_mm = heights.real();
        record.heights.push_back(reading);
    }
}

void read_fittings(Database& database, Id form, FormRecord& record) {
    Statement holes{database, "SELECT upper_x_mm, upper_y_mm, lower_x_mm, lower_y_mm, slot_mm, "
                              "upper_eye_mm, lower_eye_mm FROM form_f_hole WHERE form = ?"};
    holes.bind_all(form);
    if (holes.step()) {
        plate::FHole hole;
        hole.upper = read_point(holes);
        hole.lower = read_point(holes);
        hole.slot_mm = holes.real();
        hole.upper_eye_mm = holes.real();
        hole.lower_eye_mm = holes.real();
        record.f_holes = hole;
    }
    Statement bars{database,
                   "SELECT lower_x_mm, lower_y_mm, upper_x_mm, upper_y_mm, width_mm, height_mm, "
                   "end_height_mm, fullness, density_kg_m3 FROM form_bar WHERE form = ?"};
    bars.bind_all(form);
    if (bars.step()) {
        plate::BassBar bar;
        bar.lower = read_point(bars);
        bar.upper = read_point(bars);
        bar.width_mm = bars.real();
        bar.height_mm = bars.real();
        bar.end_height_mm = bars.real();
        bar.fullness = bars.real();
        bar.density_kg_m3 = bars.maybe_real();
        record.bar = bar;
    }
}

void read_thickness(Database& database, SessionHistory& session) {
    Statement map{database, "SELECT id, made_ms FROM thickness_map WHERE session = ? "
                            "ORDER BY made_ms DESC, id DESC LIMIT 1"};
    map.bind_all(session.session.id);
    if (!map.step())
        return;
    session.thickness.id = map.integer();
    session.thickness.at = {map.integer()};
    Statement rows{database, "SELECT x_mm, y_mm, thickness_mm, name FROM thickness WHERE map = ? "
                             "ORDER BY place"};
    rows.bind_all(session.thickness.id);
    while (rows.step()) {
        plate::ThicknessReading reading;
        reading.at = read_point(rows);
        reading.thickness_mm = rows.real();
        reading.name = rows.text();
        session.thickness.readings.push_back(std::move(reading));
    }
}

void read_pins(Database& database, SessionHistory& session) {
    Statement rows{database, "SELECT id, session, x_mm, y_mm, text FROM pin "
                             "WHERE session = ? AND binned_ms IS NULL ORDER BY id"};
    rows.bind_all(session.session.id);
    while (rows.step()) {
        PinRecord pin;
        pin.id = rows.integer();
        pin.session = rows.integer();
        pin.at = read_point(rows);
        pin.text = rows.text();
        session.pins.push_back(std::move(pin));
    }
}

void read_flex(Database& database, SessionHistory& session) {
    Statement rows{database, "SELECT id, session, kind, span_mm, load_g, deflection_mm FROM flex "
                             "WHERE session = ? AND binned_ms IS NULL ORDER BY id"};
    rows.bind_all(session.session.id);
    while (rows.step()) {
        FlexRecord flex;
        flex.id = rows.integer();
        flex.session = rows.integer();
        const std::string word = rows.text();
        const auto kind = flex_kind_from_word(word);
        if (!kind)
            continue;
        flex.kind = *kind;
        flex.span_mm = rows.real();
        flex.load_g = rows.real();
        flex.deflection_mm = rows.real();
        session.flex.push_back(flex);
    }
}

void read_weighings(Database& database, SessionHistory& session) {
    Statement rows{database,
                   "SELECT id, session, begun_ms, x_mm, y_mm, place, thing, mass_g, place_sd_mm "
                   "FROM weighing WHERE session = ? AND binned_ms IS NULL ORDER BY begun_ms, id"};
    rows.bind_all(session.session.id);
    while (rows.step()) {
        WeighingRecord weighing;
        weighing.id = rows.integer();
        weighing.session = rows.integer();
        weighing.begun = {rows.integer()};
        weighing.at = read_point(rows);
        weighing.place = rows.text();
        weighing.thing = laid_thing_from_word(rows.text()).value_or(LaidThing::putty);
        weighing.mass_g = rows.real();
        weighing.place_sd_mm = rows.real();
        session.weighings.push_back(std::move(weighing));
    }
}

void read_plan_parts(Database& database, PlanRecord& plan) {
    Statement modes{database,
                    "SELECT number, now_hz, want_hz, firmness, after_hz, after_sd_hz, pass_hz, "
                    "pass_sd_hz FROM plan_mode WHERE plan = ? ORDER BY place"};
    modes.bind_all(plan.id);
    while (modes.step()) {
        PlannedMode m;
        m.number = static_cast<int>(modes.integer());
        for (double* value : {&m.now_hz, &m.want_hz, &m.firmness, &m.after_hz, &m.after_sd_hz,
                              &m.pass_hz, &m.pass_sd_hz})
            *value = modes.real();
        plan.modes.push_back(m);
    }
    Statement strokes{database, "SELECT x_mm, y_mm, mirrored, depth_mm FROM plan_stroke "
                                "WHERE plan = ? ORDER BY place"};
    strokes.bind_all(plan.id);
    while (strokes.step()) {
        PlannedStroke stroke;
        stroke.middle = read_point(strokes);
        stroke.mirrored = strokes.truth();
        stroke.depth_mm = strokes.real();
        plan.strokes.push_back(stroke);
    }
}

void read_plan(Database& database, SessionHistory& session) {
    Statement row{database, "SELECT id, session, made_ms, model_version, pass_share, wood_g, "
                            "summary FROM plan WHERE session = ? "
                            "ORDER BY made_ms DESC, id DESC LIMIT 1"};
    row.bind_all(session.session.id);
    if (!row.step())
        return;
    PlanRecord plan;
    plan.id = row.integer();
    plan.session = row.integer();
    plan.made = {row.integer()};
    plan.model_version = row.text();
    plan.pass_share = row.real();
    plan.wood_g = row.real();
    plan.summary = row.text();
    read_plan_parts(database, plan);
    session.plan = std::move(plan);
}

} // namespace

std::string_view to_word(LaidThing thing) { return base::row_of(k_thing_words, thing).word; }
std::string_view to_text(LaidThing thing) {
    return wording::say(base::row_of(k_thing_words, thing).text);
}
std::optional<LaidThing> laid_thing_from_word(std::string_view word) {
    return base::value_of(k_thing_words, word);
}

std::string_view to_word(FlexKind kind) { return base::row_of(k_flex_words, kind).word; }
std::string_view to_text(FlexKind kind) {
    return wording::say(base::row_of(k_flex_words, kind).text);
}
std::optional<FlexKind> flex_kind_from_word(std::string_view word) {
    return base::value_of(k_flex_words, word);
}

std::optional<FormRecord> read_form(Database& database, Id plate) {
    Statement row{
        database,
        "SELECT id, length_mm, upper_mm, waist_mm, lower_mm, arch_mm, edge_mm, "
        "long_fullness, cross_fullness, species, two_piece, right_density, right_stiffness "
        "FROM form WHERE plate = ? ORDER BY said_ms DESC, id DESC LIMIT 1"};
    row.bind_all(plate);
    if (!row.step())
        return std::nullopt;
    const Id id = row.integer();
    FormRecord form;
    for (double* value : {&form.size.length_mm, &form.size.upper_mm, &form.size.waist_mm,
                          &form.size.lower_mm, &form.arching.arch_mm, &form.arching.edge_mm,
                          &form.arching.long_fullness, &form.arching.cross_fullness})
        *value = row.real();
    form.species = row.text();
    form.two_piece = row.truth();
    form.right_density = row.real();
    form.right_stiffness = row.real();
    read_outline(database, id, form);
    read_fittings(database, id, form);
    return form;
}

void read_shape(Database& database, SessionHistory& session) {
    read_thickness(database, session);
    read_pins(database, session);
    read_flex(database, session);
    read_weighings(database, session);
    read_plan(database, session);
}

} // namespace platewright::ledger
