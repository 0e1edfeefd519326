"""What goes out on paper, as pictures and as tables, made from the frozen quote alone."""

from service.documents.field_pages import field_sheet_pdf
from service.documents.lists import cut_list_csv, lines_csv, order_list_csv
from service.documents.quote_pages import quote_pdf
from service.documents.svg import plan_svg

__all__ = ["cut_list_csv", "field_sheet_pdf", "lines_csv", "order_list_csv", "plan_svg", "quote_pdf"]
