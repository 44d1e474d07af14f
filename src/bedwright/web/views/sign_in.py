"""Signing in and out, where the site answers to other machines."""

from __future__ import annotations

from django.contrib.auth.views import LoginView, LogoutView
from django.urls import path

URLS = [
    path("sign-in/", LoginView.as_view(template_name="web/sign_in.html"), name="sign-in"),
    path("sign-out/", LogoutView.as_view(next_page="sign-in"), name="sign-out"),
]
