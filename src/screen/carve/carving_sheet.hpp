#pragma once
#include "ledger/shape_columns.hpp"
#include "plot/plate/plate_picture.hpp"
#include "screen/fields/fields.hpp"
#include "screen/fields/record_fields.hpp"
#include "screen/fields/typed.hpp"
#include "screen/plates/session_list.hpp"
#include "screen/view_context.hpp"

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace platewright::screen {

// What the sheets of the carving view share.

/// Where the pointer is on the plate that is drawn.
struct PlateSpot {
    std::optional<plate::Point> at; // inside the outline
    bool clicked = false;
};

/// Draws the plate into its ground and tells where the pointer is on it.
PlateSpot draw_plate_sheet(const ViewContext& context, const plot::PlatePicture& picture,
                           const plot::Box& box);

/// A length that suits a violin, for the plate on the bench: in proportion to its body, in whole
/// steps.
double in_proportion(const ledger::PlateHistory& history, double of_violin_mm, double step_mm);

/// Its bare outline with the pins of the open session.
plot::PlatePicture outline_shown(const ViewContext& context);
void add_pins(plot::PlatePicture& picture, const ViewContext& context);

/// From which side the plate on the bench is seen (sides_of).
std::string sides_shown(const ViewContext& context, bool from_inside);

/// How many proposals of what to measure next are told and drawn.
inline constexpr std::size_t k_most_next = 3;
/// What would make a forecast surer, best first; `words` a sentence each.
void before_it(const ViewContext& context, const std::vector<std::string>& words);

/// One line of a page: what, and its value beside it.
void fact(const ViewContext& context, std::string_view what, std::string_view value);
/// As many of them, sentences as text.
void told(const ViewContext& context, const wording::Facts& facts);

/// The number typed, its unit after it or not, within a range; nothing where it is none.
std::optional<double> number_within(const std::string& typed, const base::Limits& limits);

/// Asks the bench for the plate's model while someone looks, and again when what it rests on has
/// changed.
class StudyAsked {
public:
    /// The plate on the bench is never null.
    void keep(const ViewContext& context);
    /// Asks the next time, whatever was asked before.
    void again();

private:
    std::shared_ptr<const bench::PlateView> asked_for_;
    std::optional<bench::StudyInputs> inputs_; // of the model that was asked for last
};

/// Caliper readings: clicked on the plate and typed, or pasted; and what the map says of the plate.
class MapSheet {
public:
    plot::PlatePicture picture(const ViewContext& context) const;
    void side(const ViewContext& context, const PlateSpot& spot);
    /// Readings that are typed and not kept yet.
    std::int64_t not_kept() const { return changed_ ? std::ssize(draft_) : 0; }

private:
    void follow(const ViewContext& context);
    void facts(const ViewContext& context) const;
    void entry(const ViewContext& context, const PlateSpot& spot);
    void add(const ViewContext& context);
    void take_out(const ViewContext& context);
    void keep(const ViewContext& context);
    void paste(const ViewContext& context);

    ledger::Id session_ = 0;
    std::int64_t map_ = 0; // whose readings the draft began with
    std::vector<plate::ThicknessReading> draft_;
    bool changed_ = false;
    std::optional<plate::Point> at_; // where the next reading was taken
    bool wants_focus_ = false;
    std::string typed_, pasted_;
    Complaint complaint_;
};

/// The model's modes: how each moves, and what a stroke of the scraper does to it at each place.
class ModesSheet {
public:
    /// Moves with the clock while it plays.
    plot::PlatePicture motion(const trends::PlateStudy& study, bool two_piece) const;
    plot::PlatePicture strokes(const trends::PlateStudy& study, bool two_piece) const;
    void motion_side(const ViewContext& context, const trends::PlateStudy& study);
    void strokes_side(const ViewContext& context, const trends::PlateStudy& study,
                      const PlateSpot& spot);

private:
    void list(const ViewContext& context, const trends::PlateStudy& study);
    int chosen(const trends::PlateStudy& study) const;

    int mode_ = -1; // index into the study's modes; -1: the ring mode
    bool plays_ = true;
};

/// A plan: where modes should go, where the next pass takes wood, what is expected, and how the
/// last plan turned out.
class PassSheet {
public:
    plot::PlatePicture picture(const ViewContext& context) const;
    void side(const ViewContext& context);
    /// Where modes should go, typed and kept with the plate: it needs no model, unless a plan may
    /// be asked for as well.
    void goals(const ViewContext& context, bool may_plan = false);

private:
    void wishes(const ViewContext& context);
    void keep(const ViewContext& context);
    /// None: the complaint says why, or asks whether that is meant; pressed again it is.
    std::optional<std::vector<trends::Goal>> typed_goals(const ViewContext& context);
    std::string label_of(const ViewContext& context, int number) const;
    void ask(const ViewContext& context, ledger::Id reference);
    void answer(const ViewContext& context, const trends::PlanAnswer& answer);
    void hindsight(const ViewContext& context, const trends::PlanHindsight& hindsight) const;

    void fill_in(const ledger::PlateHistory& history);

    struct Wish {
        int number = 0;
        TypedFigure hz = {}; // filled with the target kept with the plate
    };
    std::vector<Wish> wishes_; // 1, 2, 5, and whatever else has a target
    ledger::Id plate_ = 0;     // whose limits and wishes are typed
    TypedFigure least_, deepest_, platform_, share_;
    bool alike_in_ratio_ = false;
    bool lopsided_ = false;
    bool whole_ = false; // the picture shows all of the plan
    std::vector<trends::Goal> asked_about_;
    Complaint complaint_;
};

/// What can be tried and undone: a mass laid on a place to weigh the modes there, and a cut on the
/// model with what would make its forecast surer.
class TrialSheet {
public:
    plot::PlatePicture picture(const ViewContext& context) const;
    void side(const ViewContext& context, const PlateSpot& spot);

private:
    void weigh(const ViewContext& context, const ledger::SessionHistory& session);
    void kept(const ViewContext& context, const ledger::SessionHistory& session);
    void cut(const ViewContext& context);
    void result(const ViewContext& context, const trends::CutTrial& trial);

    void fill_in(const ViewContext& context);

    std::optional<plate::Point> at_;
    ledger::Id plate_ = 0; // whose figures are typed
    RecordFields<ledger::WeighingRecord> weighing_{{.mass_g = 1.0}};
    TypedFigure depth_, across_;
    Complaint complaint_;
    PutAway away_;
};

/// What hand and eye find: notes pinned to places, and how far the plate gives under a load beside
/// what the model says.
class HandSheet {
public:
    plot::PlatePicture picture(const ViewContext& context) const;
    void side(const ViewContext& context, const PlateSpot& spot);

private:
    void pins(const ViewContext& context, const ledger::SessionHistory& session);
    void flexes(const ViewContext& context, const ledger::SessionHistory& session);
    void fill_in(const ViewContext& context);

    std::optional<plate::Point> at_;
    bool wants_focus_ = false;
    std::string words_;
    ledger::Id plate_ = 0; // whose figures are typed
    RecordFields<ledger::FlexRecord> flex_{{.span_mm = 300.0, .load_g = 500.0}};
    Complaint complaint_;
    PutAway away_;
};

} // namespace platewright::screen
