#include "screen/wood/wood_form.hpp"

#include "base/text.hpp"

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

Complaint missing_measure(std::string_view field) {
    return {say("A piece needs its length along the grain, its width across it and its "
                "thickness, in mm."),
            std::string(field)};
}

/// Of the first that a piece can't do without.
std::optional<Complaint> fault_in_measures(const RecordFields<ledger::WoodTestRecord>& test) {
    for (const std::string_view column : {"along_mm", "across_mm", "thickness_mm"}) {
        if (base::trimmed(test.figure(column).text).empty()) {
            return missing_measure(test.label(column));
        }
    }
    return std::nullopt;
}

Filled<std::vector<trends::TypedMotion>> take_tones(const WoodDraft& draft) {
    std::vector<trends::TypedMotion> motions;
    for (std::size_t i = 0; i < draft.tones.size(); ++i) {
        const WoodMotion motion = ledger::k_wood_motions.at(i);
        const std::string& typed = draft.tones.at(i);
        if (base::trimmed(typed).empty() || !sounds(draft.test.record.piece, motion)) {
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
    heading(context, draft.wood.record.id == 0 ? say("A piece of wood") : say("The wood"));
    return draft.wood.draw_fields(context, wrong, fresh);
}

bool piece_fields(const ViewContext& context, WoodDraft& draft, Complaint& wrong) {
    heading(context, say("Its measures"));
    const bool is_wedge = draft.test.record.piece == Piece::wedge;
    draft.test.called["thickness_mm"] = is_wedge ? say("thick edge, mm") : say("thickness, mm");
    return draft.test.draw_fields(context, wrong, false, [is_wedge](std::string_view column) {
        return column == "thin_edge_mm" && !is_wedge;
    });
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
        if (sounds(draft.test.record.piece, motion)) {
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

Filled<bench::command::AddWood> WoodDraft::finished() const {
    const auto named = finished_wood();
    if (!named) {
        return {named.fault(), named.at};
    }
    if (const auto wrong = fault_in_measures(test)) {
        return {base::Fault{wrong->words}, wrong->at};
    }
    const auto measured = test.typed();
    if (!measured) {
        return {measured.fault(), measured.at};
    }
    const auto motions = take_tones(*this);
    if (!motions) {
        return {motions.fault(), motions.at};
    }
    bench::command::AddWood out{*named, *measured, *motions};
    if (out.test.piece != Piece::wedge) {
        out.test.thin_edge_mm.reset();
    }
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
