"""The site as Django knows it."""

from django.apps import AppConfig


class SiteConfig(AppConfig):
    """The one application of the site; its models live in ``models``."""

    name = "bedwright.web"
    label = "site"
    default_auto_field = "django.db.models.BigAutoField"
