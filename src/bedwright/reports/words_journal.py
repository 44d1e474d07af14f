"""The words of the journal: what is said when it is counted in."""

from bedwright.language import Words

# Code -> sentence. Masses come in the reader's units, days in words.
JOURNAL_NOTES = Words(
    {
        "spread_one": "Bed {bed}, {material}: the document's {stated} of {stated_on} and the journal's {written} of {on} are taken for one act; the journal counts.",
        "spread_two": "Bed {bed}, {material}: the document says {stated} on {stated_on}, the journal {written} on {on}. They differ by more than a tenth, so both count. If they are one act, correct one of them.",
        "harvest_stated": "Bed {bed}, {year}: the pickings in the journal come to {written}, the document states a harvest of {stated}. The pickings are taken for parts of it; the document's figure counts.",
        "harvest_picked": "Bed {bed}, {year}: the pickings in the journal come to {written}, more than the harvest of {stated} that the document states. The pickings count.",
        "picked_not_weighed": "Bed {bed}: the {crop} picked on {on} is counted, not weighed, so the bed's ledger does not know its mass.",
        "soil_test_one": "Bed {bed}: the soil report {report} in the document and the soil test in the journal are both of {on} and are taken for one; the journal counts for this bed.",
        "soil_test_twice": "Bed {bed}: the journal holds two soil tests of {on}. The one with more results counts.",
        "soil_test_not_read": "Bed {bed}: the soil test of {on} could not be understood and does not count.",
        "night_one": "The night of {on} stands in the document and in the journal; the journal's minimum counts.",
        "night_twice": "The journal holds two minimums of {on}. The lower counts.",
        "nights_without_station": "{nights} nights of the minimum thermometer wait: without a station's record there is nothing to compare them with.",
        "no_stock_list": "The document keeps no stock list, so what was bought or used up is written down but not counted.",
        "stock_undated": "{material}: the stock list does not say when it was counted, so the journal can't be counted on from it. Give the day of counting.",
        "stock_not_weighed": "{material}: the stock list gives a volume and no density is known, so the journal can't be counted on from it. Give its weight.",
        "amount_not_weighed": "{material}: {amount} of {on} can't be weighed, for no density is known; the stock leaves it out.",
        "stock_at_least": "{material}: how much there was before {on} is not known; the stock counts what was bought since.",
        "stock_short": "{material}: on {on}, {missing} more was spread than was on hand. The count or a purchase is missing; the stock says nothing is left.",
        "bed_gone": "An entry of {on} is of bed {bed}, which the document no longer has; it does not count.",
        "material_gone": "An entry of {on} names {name}, which is not a known material any more; it does not count.",
        "crop_gone": "An entry of {on} names {name}, which is not a known crop any more; it does not count.",
    }
)
