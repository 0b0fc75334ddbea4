#pragma once
#include "context.hpp"
#include "desk/next_record.hpp"
#include "records/season.hpp"

namespace tarewell::cli {

/// One kind's records asked for field after field, until the person ends. `fixed` are values not asked for.
class entering {
  public:
    /// `sheet`: rows of a printed sheet, proposed one after the other; who types another one's id goes on after that.
    entering(context& with, ledger::ledger_file& file, records::kind which, desk::typed_values fixed, bool all,
             std::vector<desk::typed_values> sheet = {});
    void run();

  private:
    enum class said { next, back, end, undone };

    /// Asks for all columns; what was answered before is proposed. False when the person ends.
    bool ask_all(desk::typed_values& values);
    said ask(const records::column& of, desk::typed_values& values, bool first);
    /// The value that a text stands for, told where it is another; none where it can't be taken, which was said.
    std::optional<std::string> taken(const records::column& of, const std::string& text,
                                     const desk::typed_values& so_far);
    std::optional<std::string> looked_up(records::kind among, const std::string& text);
    void explain(const records::column& of, const desk::typed_values& so_far);
    void record(const desk::typed_values& values);
    void undo();
    [[nodiscard]] const records::season& season();
    [[nodiscard]] std::string proposal(const records::column& of, const desk::typed_values& so_far) const;
    void go_on_after(const desk::typed_values& recorded);
    [[nodiscard]] bool takes_several(const records::column& of) const;

    context& with_;
    ledger::ledger_file& file_;
    const records::kind_info& kind_;
    desk::typed_values fixed_;
    bool all_;
    std::vector<desk::typed_values> sheet_;
    std::size_t sheet_row_ = 0; ///< the one that is proposed
    desk::next_record next_;
    std::optional<records::season> seen_; ///< as of `seen_at_`
    records::entry_no seen_at_ = 0;
    std::vector<std::vector<std::string>> last_keys_; ///< of the record before, for taking it back
    std::size_t recorded_ = 0, undone_ = 0;
};

} // namespace tarewell::cli
