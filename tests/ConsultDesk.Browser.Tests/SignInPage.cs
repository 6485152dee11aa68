using Microsoft.Playwright;

namespace ConsultDesk.Browser.Tests;

/// <summary>The page where a consultant signs in.</summary>
public static class SignInPage
{
    /// <summary>Types address and password and sends them.</summary>
    public static async Task SignIn(IPage page, string email, string password)
    {
        await page.GetByLabel("E-mail address").FillAsync(email);
        await page.GetByLabel("Password").FillAsync(password);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
    }
}
