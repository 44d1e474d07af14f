"""Nutrients in the form in which they are counted, so that P and P2O5 cannot be mixed."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

# Standard atomic weights, g/mol: IUPAC, Standard Atomic Weights abridged to five figures, 2021.
OXYGEN, NITROGEN, PHOSPHORUS, POTASSIUM = 15.999, 14.007, 30.974, 39.098
CALCIUM, MAGNESIUM, SODIUM, SULFUR = 40.078, 24.305, 22.990, 32.06
CARBON, HYDROGEN = 12.011, 1.008


class Form(StrEnum):
    """The form in which a nutrient's mass is stated."""

    N = "N"
    NO3 = "NO3"
    P = "P"
    P2O5 = "P2O5"
    K = "K"
    K2O = "K2O"
    CA = "Ca"
    CAO = "CaO"
    MG = "Mg"
    MGO = "MgO"
    S = "S"
    SO4 = "SO4"


# Mass of the element in a mass of the form; and which element it is.
_ELEMENT: dict[Form, tuple[str, float]] = {
    Form.N: ("N", 1.0),
    Form.NO3: ("N", NITROGEN / (NITROGEN + 3 * OXYGEN)),
    Form.P: ("P", 1.0),
    Form.P2O5: ("P", 2 * PHOSPHORUS / (2 * PHOSPHORUS + 5 * OXYGEN)),
    Form.K: ("K", 1.0),
    Form.K2O: ("K", 2 * POTASSIUM / (2 * POTASSIUM + OXYGEN)),
    Form.CA: ("Ca", 1.0),
    Form.CAO: ("Ca", CALCIUM / (CALCIUM + OXYGEN)),
    Form.MG: ("Mg", 1.0),
    Form.MGO: ("Mg", MAGNESIUM / (MAGNESIUM + OXYGEN)),
    Form.S: ("S", 1.0),
    Form.SO4: ("S", SULFUR / (SULFUR + 4 * OXYGEN)),
}


class FormError(TypeError):
    """Amounts of unlike forms were added or compared."""


@dataclass(frozen=True)
class Amount:
    """A mass per area (kg/m2) of a nutrient in a stated form.

    Amounts of one form add up; adding P to P2O5 raises FormError, and so does turning
    phosphorus into potash.
    """

    kg_m2: float
    form: Form

    def __add__(self, other: Amount) -> Amount:
        self._same(other)
        return Amount(self.kg_m2 + other.kg_m2, self.form)

    def __sub__(self, other: Amount) -> Amount:
        self._same(other)
        return Amount(self.kg_m2 - other.kg_m2, self.form)

    def __lt__(self, other: Amount) -> bool:
        self._same(other)
        return self.kg_m2 < other.kg_m2

    def to(self, form: Form) -> Amount:
        """The same amount of the element, stated in another form."""
        element, share = _ELEMENT[self.form]
        wanted, wanted_share = _ELEMENT[form]
        if element != wanted:
            raise FormError(f"{self.form} holds {element}, not the {wanted} of {form}")
        return Amount(self.kg_m2 * share / wanted_share, form)

    def _same(self, other: Amount) -> None:
        if self.form != other.form:
            raise FormError(f"{self.form} and {other.form} are counted apart; turn one over first")


def form_factor(given: str, wanted: str) -> float:
    """The factor that turns a mass in the form ``given`` into one in ``wanted``.

    Raises FormError for forms of different elements, ValueError for an unknown form.
    """
    return Amount(1.0, Form(given)).to(Form(wanted)).kg_m2
