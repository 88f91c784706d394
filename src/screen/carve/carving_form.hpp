#pragma once
#include "ledger/shape_columns.hpp"
#include "screen/carve/carving_sheet.hpp"
#include "screen/fields/record_fields.hpp"

#include <string>

namespace platewright::screen {

/// The plate's shape as it is being typed (record_fields.hpp).
struct FormDraft : RecordFields<ledger::FormRecord> {
    std::string f_hole;                   // upper eye's x and y, lower eye's x and y, mm
    std::string f_hole_shown;             // as that field was filled
    std::string bar;                      // width and height, mm
    std::string rim, f_hole_rim, heights; // pasted lines

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
