#include "screen/wood/wood_form.hpp"

#include "base/text.hpp"
#include "ledger/limits.hpp"
#include "screen/fields/fields.hpp"
#include "screen/fields/typed.hpp"

namespace platewright::screen {
namespace {
using ledger::Piece;
using ledger::WoodMotion;

/// What such a piece is tapped for: a bar or a board bends, a billet or a wedge is struck on its
/// end.
bool sounds(Piece piece, WoodMotion motion) {
    const bool bends = piece == Piece::bar || piece == Piece::board;
    switch (motion) {
    case WoodMotion::along:
    case WoodMotion::across:
        return bends;
    case WoodMotion::twist:
        return piece == Piece::board;
    case WoodMotion::sound_along:
    case WoodMotion::sound_across:
        break;
    }
    return true;
}

std::string_view thickness_label(Piece piece) {
    return piece == Piece::wedge ? say("thick edge, mm") : say("thickness, mm");
}

Complaint missing_measure(std::string_view field) {
    return {std::string(say("A piece needs its length along the grain, its width across it and its "
                            "thickness, in mm.")),
            std::string(field)};
}

/// Into `out` what the fields hold; a complaint about the first that can't be.
std::optional<Complaint> take_measures(const WoodDraft& draft, ledger::WoodTestRecord& out) {
    std::optional<double> along, across, thickness;
    struct Typed {
        const std::string& typed;
        std::optional<double>& value;
        std::string_view field, what;
        base::Limits limits;
    };
    for (const Typed& t :
         {Typed{draft.along, along, say("along the grain, mm"), say("The length along the grain"),
                ledger::k_along},
          Typed{draft.across, across, say("across the grain, mm"),
                say("The width across the grain"), ledger::k_across},
          Typed{draft.thickness, thickness, thickness_label(out.piece), say("The thickness"),
                ledger::k_thickness},
          Typed{draft.thin_edge,
                out.thin_edge_mm,
                say("thin edge, mm"),
                say("The thin edge"),
                {0, ledger::k_thickness.most, "mm"}},
          Typed{draft.uneven, out.thickness_sd_mm, say("thickness strays by, mm"),
                say("The unevenness"), ledger::k_unevenness},
          Typed{draft.mass, out.mass_g, say("mass, g"), say("The mass"), ledger::k_wood_mass},
          Typed{draft.temperature, out.temperature_c, say("temperature, \u00b0C"),
                say("The temperature"), ledger::k_temperature},
          Typed{draft.humidity, out.humidity_pct, say("humidity, %"), say("The humidity"),
                ledger::k_humidity},
          Typed{draft.moisture, out.moisture_pct, say("moisture by a meter, %"),
                say("The wood's moisture"), ledger::k_moisture}}) {
        const auto value = typed_number(t.typed, t.what, t.limits);
        if (!value) {
            return Complaint{value.fault().what, std::string(t.field)};
        }
        t.value = *value;
    }
    if (!along || !across || !thickness) {
        return missing_measure(!along    ? say("along the grain, mm")
                               : !across ? say("across the grain, mm")
                                         : thickness_label(out.piece));
    }
    out.along_mm = *along;
    out.across_mm = *across;
    out.thickness_mm = *thickness;
    if (out.piece != Piece::wedge) {
        out.thin_edge_mm.reset();
    }
    return std::nullopt;
}

Filled<std::vector<trends::TypedMotion>> take_tones(const WoodDraft& draft) {
    std::vector<trends::TypedMotion> motions;
    for (std::size_t i = 0; i < draft.tones.size(); ++i) {
        const WoodMotion motion = ledger::k_wood_motions.at(i);
        const std::string& typed = draft.tones.at(i);
        if (base::trimmed(typed).empty() || !sounds(ledger::k_pieces.at(draft.piece), motion)) {
            continue;
        }
        const auto lone = base::parse_number(typed);
        const auto both = lone ? std::vector{*lone} : typed_numbers(typed, 2);
        if (both.empty() || both[0] < 10 || both[0] > 40000 ||
            (both.size() > 1 && (both[1] < 1 || both[1] > 10000))) {
            return {base::Fault{say("\u201c{}\u201d is no tap tone: give its Hz (10 to 40000), "
                                    "and its Q after a semicolon where it is known.",
                                    typed)},
                    ledger::to_text(motion)};
        }
        motions.push_back(
            {motion, both[0], both.size() > 1 ? std::optional(both[1]) : std::nullopt});
    }
    return motions;
}

bool wood_fields(const ViewContext& context, WoodDraft& draft, Complaint& wrong, bool fresh) {
    heading(context, draft.wood.id == 0 ? say("A piece of wood") : say("The wood"));
    bool entered = field(context, say("name in your stock"), draft.wood.label, 0, fresh, &wrong);
    drop_down(context, say("handbook wood"), species_names(say("none of these")), draft.species);
    entered |= field(context, say("origin: where from, when felled"), draft.wood.origin);
    notes_field(context, say("notes"), draft.wood.notes);
    return entered;
}

bool piece_fields(const ViewContext& context, WoodDraft& draft, Complaint& wrong) {
    heading(context, say("Its measures"));
    std::vector<std::string> pieces;
    for (const Piece piece : ledger::k_pieces) {
        pieces.emplace_back(ledger::to_text(piece));
    }
    drop_down(context, say("what it is"), pieces, draft.piece);
    const bool wedge = ledger::k_pieces.at(draft.piece) == Piece::wedge;
    bool entered = field(context, say("along the grain, mm"), draft.along, 160, false, &wrong);
    entered |= field(context, say("across the grain, mm"), draft.across, 160, false, &wrong);
    entered |= field(context, thickness_label(ledger::k_pieces.at(draft.piece)), draft.thickness,
                     160, false, &wrong);
    if (wedge) {
        entered |= field(context, say("thin edge, mm"), draft.thin_edge, 160, false, &wrong);
    }
    entered |= field(context, say("mass, g"), draft.mass, 160, false, &wrong);
    entered |= field(context, say("temperature, \u00b0C"), draft.temperature, 160, false, &wrong);
    entered |= field(context, say("humidity, %"), draft.humidity, 160, false, &wrong);
    entered |= field(context, say("moisture by a meter, %"), draft.moisture, 160, false, &wrong);
    entered |= field(context, say("thickness strays by, mm"), draft.uneven, 160, false, &wrong);
    return entered;
}

bool tone_fields(const ViewContext& context, WoodDraft& draft, Complaint& wrong) {
    heading(context, say("Its tap tones"));
    faint_text(
        context,
        say("The lowest of each motion: Hz, and its Q after a semicolon where it is known. What is "
            "left empty is not counted."));
    bool entered = false;
    for (std::size_t i = 0; i < draft.tones.size(); ++i) {
        const WoodMotion motion = ledger::k_wood_motions.at(i);
        if (sounds(ledger::k_pieces.at(draft.piece), motion)) {
            entered |=
                field(context, ledger::to_text(motion), draft.tones.at(i), 200, false, &wrong);
        }
    }
    return entered;
}

/// Stacked, the buttons stand at the end of all.
FormAnswer stacked_form(const ViewContext& context, plot::Box area, WoodDraft& draft, bool whole,
                        Complaint& wrong, bool fresh) {
    bool entered = false;
    {
        const Page page(context, "wood", next_column(context, area, 0.0));
        entered |= wood_fields(context, draft, wrong, fresh);
    }
    if (whole) {
        const Page page(context, "piece", next_column(context, area, 0.0));
        entered |= piece_fields(context, draft, wrong);
    }
    if (whole) {
        const Page page(context, "tones", next_column(context, area, 0.0));
        entered |= tone_fields(context, draft, wrong);
    }
    const Page page(context, "buttons", next_column(context, area, 0.0));
    return form_buttons(context, entered, wrong);
}

} // namespace

WoodDraft::WoodDraft(const ledger::WoodRecord& from)
    : wood(from), species(species_index(from.species)) {}

Filled<ledger::WoodRecord> WoodDraft::finished_wood() const {
    ledger::WoodRecord out = wood;
    out.label = base::trimmed(wood.label);
    if (species != species_index(wood.species)) {
        out.species = species_key(species);
    }
    if (out.label.empty()) {
        return {base::Fault{std::string(say("Give the wood a name, as it has in your stock."))},
                say("name in your stock")};
    }
    return out;
}

Filled<bench::command::AddWood> WoodDraft::finished() const {
    bench::command::AddWood out;
    const auto named = finished_wood();
    if (!named) {
        return {named.fault(), named.at};
    }
    out.wood = *named;
    out.test.piece = ledger::k_pieces.at(piece);
    if (const auto wrong = take_measures(*this, out.test)) {
        return {base::Fault{wrong->words}, wrong->at};
    }
    const auto motions = take_tones(*this);
    if (!motions) {
        return {motions.fault(), motions.at};
    }
    out.motions = *motions;
    return out;
}

FormAnswer wood_form(const ViewContext& context, plot::Box area, WoodDraft& draft, bool whole,
                     Complaint& wrong, bool fresh) {
    if (context.stacks) {
        return stacked_form(context, area, draft, whole, wrong, fresh);
    }
    const double gap = 10.0 * context.look.scale;
    const double third = (area.width() - 2.0 * gap) / 3.0;
    bool entered = false;
    FormAnswer answer = FormAnswer::open;
    plot::Box first = take_left(area, third);
    take_left(area, gap);
    if (whole) {
        const Page page(context, "piece", take_left(area, third));
        entered |= piece_fields(context, draft, wrong);
    }
    take_left(area, gap);
    if (whole) {
        const Page page(context, "tones", area);
        entered |= tone_fields(context, draft, wrong);
    }
    const Page page(context, "wood", first);
    entered |= wood_fields(context, draft, wrong, fresh);
    answer = form_buttons(context, entered, wrong);
    return answer;
}

} // namespace platewright::screen
