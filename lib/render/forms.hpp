#pragma once
#include "render/form_check.hpp"
#include "render/page.hpp"

#include <string>
#include <vector>

namespace tarewell::render {

/// Where forms are looked for: a folder of the user's first, then those built in.
class form_shelf {
  public:
    /// An empty folder stands for none. Throws ledger::io_error when the folder is not there.
    explicit form_shelf(std::string folder = {});

    struct listed {
        std::string name, sentence;
        bool built_in = true;
    };
    /// Every form by name with the sentence that it begins with; parts (part_...) are left out.
    [[nodiscard]] std::vector<listed> all() const;

    /// NAME.mustache, or none. Throws ledger::input_error for a name that is no plain word.
    [[nodiscard]] std::optional<form_text> find(const std::string& name) const;
    /// As find, or an input_error that names the nearest form.
    [[nodiscard]] form_text need(const std::string& name) const;

    [[nodiscard]] form_check check(const form_text& form) const;

    /// The form with its data in place. Throws ledger::refused with every fault of the form,
    /// ledger::input_error when it is about a site or grower and none is given.
    [[nodiscard]] std::string fill(const form_text& form, const page_input& input) const;

  private:
    std::string folder_;
};

/// The text of a file of the user's. Throws ledger::io_error.
form_text form_in_file(const std::string& path);

} // namespace tarewell::render
