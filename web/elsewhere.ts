// Runs before anything is drawn: the page as it is sent is the first view, in the language that the service took.
{
  const { documentElement: root } = document
  const chosen = () => {
    try {
      return localStorage.getItem('language') ?? root.lang
    } catch {
      return root.lang
    }
  }
  if (!['', '#', '#/'].includes(window.location.hash) || chosen() !== root.lang) root.classList.add('elsewhere')
}
