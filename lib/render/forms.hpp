#pragma once
#include "render/form_check.hpp"
#include "render/page.hpp"

#include <string>
#include <vector>

namespace tarewell::render {

/// Where forms are looked for: a folder of the user's first, then those built in.
class form_shelf {
  public:
    /// An empty folder stands for none. Throws records::io_error when the folder is not there.
    explicit form_shelf(std::string folder = {});

    struct listed {
        std::string name, sentence;
        bool built_in = true;
        bool workbook = false; ///< a workbook's layout; otherwise a page
    };
    /// Every form by name with a sentence that says what it is; parts (part_...) are left out.
    [[nodiscard]] std::vector<listed> all() const;

    struct chosen {
        form_text form;
        bool workbook = false;
    };
    /// The page or workbook layout of a name; of both, the workbook where it is wanted. A name with its ending,
    /// NAME.mustache or NAME.layout.toml, says which. An input_error names the nearest form.
    [[nodiscard]] chosen choose(const std::string& name, bool workbook_wanted) const;
    /// As choose, a page where there is one.
    [[nodiscard]] form_text need(const std::string& name) const { return choose(name, false).form; }

    /// NAME.mustache, or none. Throws records::input_error for a name that is no plain word.
    [[nodiscard]] std::optional<form_text> find(const std::string& name) const;
    [[nodiscard]] form_check check(const form_text& form) const;

    /// The form with its data in place. Throws records::refused with every fault of the form,
    /// records::input_error when it is about a site or grower and none is given.
    [[nodiscard]] std::string fill(const form_text& form, const page_input& input) const;

  private:
    std::string folder_;

    [[nodiscard]] std::optional<form_text> find_file(const std::string& file) const;
};

/// A file that ends so holds a workbook's layout.
bool is_layout_file(const std::string& path);

/// The text of a file of the user's. Throws records::io_error.
form_text form_in_file(const std::string& path);

} // namespace tarewell::render
