#pragma once
#include "desk/answer.hpp"
#include "render/forms.hpp"

namespace tarewell::render {

/// Every form with a sentence.
desk::answer forms_on(const form_shelf& shelf);
/// Every name that a form may use, of a page and of a layout.
desk::answer names_a_form_may_use();

} // namespace tarewell::render
