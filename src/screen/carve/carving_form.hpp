#pragma once
#include "base/result.hpp"
#include "screen/carve/carving_sheet.hpp"
#include "screen/fields/fields.hpp"
#include "screen/fields/typed.hpp"

#include <string>

namespace platewright::screen {

/// The plate's shape as it is being typed: text as written, so that half a number is no error yet.
/// What was not touched is given back as it was, to the last digit.
struct FormDraft {
    ledger::FormRecord record;
    TypedFigure length, upper, waist, lower;      // mm
    TypedFigure arch, edge, along, across;        // mm, mm, fullness
    TypedFigure right_density, right_stiffness;   // % of the left half's
    TypedFigure rings_left, rings_right, run_out; // degrees; empty: not looked at
    std::string f_hole;                           // upper eye's x and y, lower eye's x and y, mm
    std::string f_hole_shown;                     // as that field was filled
    std::string bar;                              // width and height, mm
    std::string rim, f_hole_rim, heights;         // pasted lines
    std::size_t species = 0;                      // 0: the part's usual
    std::size_t pieces = 1;                       // index: one, two

    explicit FormDraft(const ledger::FormRecord& from);
    /// Fault: what can't be, naming it.
    Filled<ledger::FormRecord> finished() const;
};

/// Outline, arching, wood and fittings of a plate, as its maker measures them.
class FormSheet {
public:
    plot::PlatePicture picture(const ViewContext& context) const;
    void side(const ViewContext& context);

private:
    void follow(const ViewContext& context);
    void fields_of(const ViewContext& context, bool is_top);

    std::shared_ptr<const bench::PlateView> drafted_from_;
    ledger::Id plate_ = 0;
    std::optional<FormDraft> draft_;
    Complaint complaint_;
};

} // namespace platewright::screen
